//! `rangewright portions`: how much to buy.

use rangewright::models::cook::portions::{
    Amount, Guests, MainDish, Shelves, Side, Split, Vessel, main_dish, side, split,
};
use rangewright::models::cook::{Fault, Known};
use serde::Serialize;

use super::cook::{self, named};
use crate::args::{AskFormat, PortionsArgs, UnitsArg};
use crate::input::Refusal;
use crate::json::{self, Asked};
use crate::sheet::Page;
use crate::words::count;
use crate::{Exit, Io};

/// One thing to buy or to make.
#[derive(Serialize)]
struct Line {
    what: String,
    /// Gravy is measured in mL.
    liquid: bool,
    amount: Amount,
    /// Over pans of the size asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pans: Option<Split>,
}

#[derive(Serialize)]
struct Answer {
    mains: Vec<Line>,
    sides: Vec<Line>,
}

pub(super) fn run(args: &PortionsArgs, io: &mut Io<'_>) -> Exit {
    let answer = answer(args, io);
    cook::print(answer, Asked::Portions, &args.answer, io)
}

fn answer(args: &PortionsArgs, io: &Io<'_>) -> Result<String, Refusal> {
    let guests = Guests {
        adults: args.adults,
        children: args.children,
        appetite: args.appetite,
        mains: u32::try_from(args.mains.len()).unwrap_or(u32::MAX),
        sides: args.sides,
        leftovers: args.leftovers,
    };
    let refused = |faults: Vec<_>| cook::refuse_input(&faults);
    let mains = args
        .mains
        .iter()
        .map(|&dish| line(args, named(&dish), main_dish(&guests, dish)?, dish == MainDish::Braise, false));
    let mains = mains.collect::<Result<Vec<Line>, Vec<_>>>().map_err(refused)?;
    let sides = [Side::Starch, Side::Vegetable, Side::Gravy, Side::Leaves];
    let sides = sides.iter().map(|&dish| {
        let panned = matches!(dish, Side::Starch | Side::Vegetable);
        line(args, named(&dish), side(&guests, dish)?, panned, dish == Side::Gravy)
    });
    let sides = sides.collect::<Result<Vec<Line>, Vec<_>>>().map_err(refused)?;
    let answer = Answer { mains, sides };
    if args.answer.format == AskFormat::Json {
        return Ok(json::of_dish(Asked::Portions, &answer));
    }
    let mut page = Page::new(super::look(&args.answer.look, io));
    let adults = count(args.adults as usize, "adult", "adults");
    let children = count(args.children as usize, "child", "children");
    page.title(&match args.children {
        0 => format!("For {adults}"),
        _ => format!("For {adults} and {children}"),
    });
    page.heading("Raw weight, as bought");
    lines(&mut page, args, &answer.mains);
    page.heading("Each side dish of its kind, as served");
    lines(&mut page, args, &answer.sides);
    Ok(page.finish())
}

/// A pan is filled to three quarters with food as dense as water (our assumption).
fn line(args: &PortionsArgs, what: String, amount: Amount, panned: bool, liquid: bool) -> Result<Line, Vec<Fault>> {
    let over = |[width, depth, height]: [i64; 3]| {
        let [width_mm, depth_mm, height_mm] = [width, depth, height].map(|side| side as f64);
        let vessel = Vessel { width_mm, depth_mm, height_mm, fill_mm: (0.75 * height_mm).max(5.0) };
        let [width_mm, depth_mm, height_mm] = args.inside.map(|side| side as f64);
        let shelves = Shelves { width_mm, depth_mm, height_mm, racks: args.racks, clearance_mm: 30.0 };
        split(amount.grams.max(1.0), 1.0, &vessel, &shelves)
    };
    let pans = args.pan.filter(|_| panned).map(over).transpose()?;
    Ok(Line { what, liquid, amount, pans })
}

/// `2 pans of 1.1 kg, both in the oven at once`.
fn pans(split: &Split, one: f64, unit: &str) -> String {
    let pans = count(split.pans as usize, "pan", "pans");
    let loads = match split.loads.as_slice() {
        [] => "which the oven does not hold".to_owned(),
        [_] => "in the oven at once".to_owned(),
        loads => {
            let loads: Vec<String> = loads.iter().map(u32::to_string).collect();
            format!("one load after the other: {}", loads.join(", then "))
        }
    };
    format!(" In {pans} of {:.1} {unit}, {loads}.", f64::from(split.each_g) / one)
}

fn lines(page: &mut Page, args: &PortionsArgs, lines: &[Line]) {
    let customary = args.answer.look.units == Some(UnitsArg::Customary);
    for Line { what, liquid, amount, pans: over } in lines {
        let (one, unit) = match (customary, liquid) {
            (false, false) => (1000.0, "kg"),
            (false, true) => (1000.0, "L"),
            (true, false) => (453.592, "lb"),
            (true, true) => (946.353, "qt"),
        };
        let [lo, hi] = amount.range_g.map(|grams| grams / one);
        let over = over.as_ref().map_or(String::new(), |split| pans(split, one, unit));
        page.point(&format!("{what}: {:.1} {unit} ({lo:.1} to {hi:.1}).{over}", amount.grams / one));
    }
    // What several have from the same source is said once.
    let mut said: Vec<String> = Vec::new();
    for source in lines.iter().map(|line| &line.amount.source) {
        let text = if source.known == Known::Read { source.text.clone().into_owned() } else { source.to_string() };
        if !said.contains(&text) {
            page.line(&format!("Reckoned by: {text}"));
            said.push(text);
        }
    }
}
