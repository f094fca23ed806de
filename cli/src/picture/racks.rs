//! An oven or a top to scale: from the front, and from above where pans stand side by side.

use maud::{Markup, html};

use super::canvas::{Anchor, BOLD, Canvas, N, measure};
use crate::evening::racks::{Arrangement, Pan, Room};

/// Pixels for each millimetre, so that the widest thing in the kitchen is this wide.
const WIDEST: f64 = 300.0;

/// A pan as a rectangle of the drawing.
struct Shape<'a> {
    pan: &'a Pan<'a>,
    at: [f64; 4],
    class: &'static str,
}

/// Draws an arrangement; `widest` is the width of the widest oven or top of the kitchen, mm.
pub(crate) fn arrangement(own: &Arrangement<'_>, widest: i64) -> Markup {
    let scale = WIDEST / widest.max(1) as f64;
    match own.room {
        Room::Cavity(cavity) => {
            let front = front(own, [cavity.width, cavity.height], scale);
            let mut floors: Vec<i64> = own.pans.iter().map(|pan| pan.floor).collect();
            floors.sort_unstable();
            floors.dedup();
            let shared = floors.into_iter().rev().filter(|floor| on(own, *floor).count() > 1);
            let above: Vec<Markup> = shared
                .map(|floor| {
                    let pans: Vec<&Pan<'_>> = on(own, floor).collect();
                    above(&pans, [cavity.width, cavity.depth], scale, false, "from above, the door below")
                })
                .collect();
            html! { (front) @for view in above { (view) } }
        }
        Room::Top(top) => {
            let pans: Vec<&Pan<'_>> = own.pans.iter().collect();
            above(&pans, [top.width, top.depth], scale, true, "from above, the front below")
        }
    }
}

fn on<'a>(own: &'a Arrangement<'_>, floor: i64) -> impl Iterator<Item = &'a Pan<'a>> {
    own.pans.iter().filter(move |pan| pan.floor == floor)
}

fn front(own: &Arrangement<'_>, [width, height]: [i64; 2], scale: f64) -> Markup {
    let mut pans: Vec<&Pan<'_>> = own.pans.iter().collect();
    // What stands at the back is drawn first, and dashed if something stands before it.
    pans.sort_by_key(|pan| pan.y + pan.depth);
    let hidden = |pan: &Pan<'_>| {
        let before = |other: &&Pan<'_>| {
            other.floor == pan.floor
                && other.y >= pan.y + pan.depth
                && other.x < pan.x + pan.width
                && pan.x < other.x + other.width
        };
        own.pans.iter().any(|other| before(&other))
    };
    let shapes = pans.iter().map(|pan| {
        let top = height - pan.floor - pan.height;
        let at = [pan.x, top, pan.width, pan.height].map(|mm| mm as f64 * scale);
        Shape { pan, at, class: if hidden(pan) { "bar cooking behind" } else { "bar cooking" } }
    });
    let shapes: Vec<Shape<'_>> = shapes.collect();
    let mut canvas = Canvas::default();
    let (w, h) = (width as f64 * scale, height as f64 * scale);
    canvas.rect([0.0, 0.0, w, h], "wall", None);
    for pan in &pans {
        let y = (height - pan.floor) as f64 * scale;
        canvas.line([0.0, y, w, y], "shelf");
    }
    for shape in &shapes {
        canvas.rect(shape.at, shape.class, Some(shape.pan.dish));
    }
    let labelled: Vec<&Shape<'_>> = shapes.iter().filter(|shape| !shape.class.ends_with("behind")).collect();
    for shape in labelled {
        label(&mut canvas, shape);
    }
    frame(canvas, [w, h], &format!("{}, from the front", own.place))
}

fn above(pans: &[&Pan<'_>], [width, depth]: [i64; 2], scale: f64, round: bool, how: &str) -> Markup {
    let mut canvas = Canvas::default();
    let (w, h) = (width as f64 * scale, depth as f64 * scale);
    canvas.rect([0.0, 0.0, w, h], "wall", None);
    for pan in pans {
        let at @ [x, y, own, _] = [pan.x, pan.y, pan.width, pan.depth].map(|mm| mm as f64 * scale);
        if round {
            canvas.circle([x + own / 2.0, y + own / 2.0, own / 2.0], "bar cooking", pan.dish);
        } else {
            canvas.rect(at, "bar cooking", Some(pan.dish));
        }
        label(&mut canvas, &Shape { pan, at, class: "" });
    }
    let spot = pans.first().map_or("", |pan| pan.spot.as_str());
    html! {
        div class="above" {
            (frame(canvas, [w, h], &format!("{spot}, {how}")))
            span { (crate::words::capital(if round { "" } else { spot })) @if !round { ", " } (how) }
        }
    }
}

fn frame(canvas: Canvas, [width, height]: [f64; 2], name: &str) -> Markup {
    let (width, height) = (width + 4.0, height + 4.0);
    html! {
        svg class="rack" width=(N(width)) height=(N(height)) role="img" aria-label=(super::canvas::xml(name))
            viewBox=(format!("-2 -2 {} {}", N(width), N(height))) { (canvas.finish()) }
    }
}

/// The name in the middle of a pan, or only its letter.
fn label(canvas: &mut Canvas, shape: &Shape<'_>) {
    const SIZE: f64 = 13.0;
    let [x, y, width, height] = shape.at;
    let (x, y) = (x + width / 2.0, y + height / 2.0 + 4.5);
    let full = format!("{} {}", shape.pan.letter, shape.pan.dish);
    let text = if measure(&full, SIZE * BOLD) + 6.0 <= width { full } else { shape.pan.letter.to_string() };
    // A flat tray has no room for letters inside: they stand above it, or under its shelf where the roof is close.
    let y = match shape.at[1] {
        _ if height >= 16.0 => y,
        top if top >= 18.0 => top - 4.0,
        top => top + height + 14.0,
    };
    canvas.label(x, y, Anchor::Middle, "inside letter", &text);
}
