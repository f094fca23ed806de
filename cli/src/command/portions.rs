//! `rangewright portions`: how much to buy.

use rangewright::models::cook::portions::{Amount, Guests, Side, main_dish, side};
use serde::Serialize;

use super::cook::{self, named, refuse};
use crate::args::{Format, PortionsArgs, UnitsArg};
use crate::input::Refusal;
use crate::json::{self, Asked};
use crate::sheet::Page;
use crate::{Exit, Io};

/// One thing to buy or to make.
#[derive(Serialize)]
struct Line {
    what: String,
    /// Gravy is measured in mL.
    liquid: bool,
    amount: Amount,
}

#[derive(Serialize)]
struct Answer {
    mains: Vec<Line>,
    sides: Vec<Line>,
}

pub(super) fn run(args: &PortionsArgs, io: &mut Io<'_>) -> Exit {
    let answer = answer(args, io);
    cook::print(answer, io)
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
    let refused = |faults: Vec<_>| refuse(&faults, Exit::BadInput);
    let mains = args
        .mains
        .iter()
        .map(|&dish| Ok(Line { what: named(&dish), liquid: false, amount: main_dish(&guests, dish)? }));
    let mains = mains.collect::<Result<Vec<Line>, Vec<_>>>().map_err(refused)?;
    let sides = [Side::Starch, Side::Vegetable, Side::Gravy, Side::Leaves];
    let sides = sides
        .iter()
        .map(|&dish| Ok(Line { what: named(&dish), liquid: dish == Side::Gravy, amount: side(&guests, dish)? }));
    let sides = sides.collect::<Result<Vec<Line>, Vec<_>>>().map_err(refused)?;
    let answer = Answer { mains, sides };
    if args.answer.format == Format::Json {
        return Ok(json::of_dish(Asked::Portions, &answer));
    }
    let mut page = Page::new(super::look(&args.answer.look, io));
    page.title(&format!("For {} adults and {} children", args.adults, args.children));
    page.heading("Raw weight, as bought");
    lines(&mut page, args, &answer.mains);
    page.heading("Each side dish of its kind, as served");
    lines(&mut page, args, &answer.sides);
    Ok(page.finish())
}

fn lines(page: &mut Page, args: &PortionsArgs, lines: &[Line]) {
    let customary = args.answer.look.units == Some(UnitsArg::Customary);
    for Line { what, liquid, amount } in lines {
        let (one, unit) = match (customary, liquid) {
            (false, false) => (1000.0, "kg"),
            (false, true) => (1000.0, "L"),
            (true, false) => (453.592, "lb"),
            (true, true) => (946.353, "qt"),
        };
        let [lo, hi] = amount.range_g.map(|grams| grams / one);
        page.point(&format!("{what}: {:.1} {unit} ({lo:.1} to {hi:.1}). {}", amount.grams / one, amount.source));
    }
}
