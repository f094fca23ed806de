//! What stands where in an oven or on a top, each time it changes.

use std::collections::BTreeSet;

use rangewright::models::problem::{Cavity, Minute, Place, Top};

use super::View;
use super::marks::letter;
use super::phrases::{self, planned};

/// What stands in a place from one change to the next.
pub(crate) struct Arrangement<'a> {
    pub(crate) place: &'a str,
    pub(crate) room: Room<'a>,
    pub(crate) from: Minute,
    pub(crate) until: Minute,
    pub(crate) pans: Vec<Pan<'a>>,
}

/// The inside of an oven, or the plate of a top.
#[derive(Clone, Copy)]
pub(crate) enum Room<'a> {
    Cavity(&'a Cavity),
    Top(&'a Top),
}

/// A pan as it stands; lengths in mm from the left wall, the back wall and the floor.
pub(crate) struct Pan<'a> {
    pub(crate) letter: char,
    pub(crate) dish: &'a str,
    /// Where it stands, in words: `upper rack`.
    pub(crate) spot: String,
    pub(crate) x: i64,
    pub(crate) y: i64,
    pub(crate) floor: i64,
    pub(crate) width: i64,
    pub(crate) depth: i64,
    pub(crate) height: i64,
}

/// Every arrangement of every oven and top, in order of places and time.
pub(super) fn all<'a>(view: &View<'a>) -> Vec<Arrangement<'a>> {
    let mut all = Vec::new();
    for place in &view.problem.places {
        let (room, stays) = match place {
            Place::Cavity(cavity) => (Room::Cavity(cavity), in_cavity(view, cavity)),
            Place::Top(top) => (Room::Top(top), on_top(view, top)),
            Place::Hob(_) => continue,
        };
        let changes: BTreeSet<Minute> = stays.iter().flat_map(|stay| [stay.from, stay.until]).collect();
        let changes: Vec<Minute> = changes.into_iter().collect();
        for pair in changes.windows(2) {
            let &[from, until] = pair else { continue };
            let here = stays.iter().filter(|stay| stay.from <= from && until <= stay.until);
            let pans: Vec<Pan<'a>> = here.filter_map(|stay| stay.pan(view)).collect();
            if !pans.is_empty() {
                all.push(Arrangement { place: view.words.place(place.id()), room, from, until, pans });
            }
        }
    }
    all
}

struct Stay<'a> {
    step: &'a str,
    from: Minute,
    until: Minute,
    spot: String,
    /// x, y, floor.
    corner: [i64; 3],
    /// Width and depth.
    size: [i64; 2],
    height: Option<i64>,
}

impl<'a> Stay<'a> {
    fn pan(&self, view: &View<'a>) -> Option<Pan<'a>> {
        let own = planned(view, self.step)?;
        let [x, y, floor] = self.corner;
        let [width, depth] = self.size;
        let height = self.height.or(own.mode.pan.map(|pan| pan[2])).unwrap_or(0);
        let (letter, dish) = (letter(view, self.step), view.words.dish_of(self.step));
        Some(Pan { letter, dish, spot: self.spot.clone(), x, y, floor, width, depth, height })
    }
}

/// Spots of a cavity; a pan that stays while the temperature changes stands there once.
fn in_cavity<'a>(view: &View<'a>, cavity: &Cavity) -> Vec<Stay<'a>> {
    let day = view.day.cavities.iter().find(|day| day.place == cavity.id);
    let mut stays: Vec<Stay<'a>> = Vec::new();
    for spot in day.into_iter().flat_map(|day| &day.spots) {
        let (corner, size) = ([spot.x, spot.y, spot.floor], [spot.width, spot.depth]);
        let stayed = view.problem.links.iter().any(|link| {
            link.stay && link.to == spot.step && stays.iter().any(|s| s.step == link.from && s.until == spot.from)
        });
        let before =
            stays.iter_mut().find(|own| stayed && own.until == spot.from && own.corner == corner && own.size == size);
        match before {
            Some(own) => own.until = spot.until,
            None => {
                let rack = format!("{} rack", phrases::rack(spot.height));
                let stay = Stay {
                    step: &spot.step,
                    from: spot.from,
                    until: spot.until,
                    spot: rack,
                    corner,
                    size,
                    height: None,
                };
                stays.push(stay);
            }
        }
    }
    stays
}

fn on_top<'a>(view: &View<'a>, top: &Top) -> Vec<Stay<'a>> {
    let day = view.day.tops.iter().find(|day| day.place == top.id);
    let stay = |spot: &'a rangewright::models::schedule::TopSpot| Stay {
        step: &spot.step,
        from: spot.from,
        until: spot.until,
        spot: "pan".to_owned(),
        corner: [spot.x, spot.y, 0],
        size: [spot.diameter, spot.diameter],
        height: Some(0),
    };
    day.into_iter().flat_map(|day| &day.spots).map(stay).collect()
}
