//! `rangewright show`: a saved plan, unchanged.

use rangewright::{Error, Planned};

use super::hand_over;
use super::search::refusal;
use crate::args::ShowArgs;
use crate::evening::View;
use crate::input::{self, Input, Refusal, Saved};
use crate::json::Asked;
use crate::{Exit, Io, chances, sheet};

pub(super) fn run(args: &ShowArgs, io: &mut Io<'_>) -> Exit {
    match answer(args, io) {
        Ok(exit) => exit,
        Err(refused) => refused.tell(Asked::Show, args.sheets.as_data(), io),
    }
}

fn answer(args: &ShowArgs, io: &mut Io<'_>) -> Result<Exit, Refusal> {
    let Input { planner, mut words, .. } = hand_over::read(args.menu.as_deref(), &args.sheets, &args.look, io)?;
    let style = hand_over::style(&args.sheets, &args.look, &words, io)?;
    let read = input::saved_evening(&args.plan, planner.problem(), io);
    let Saved { plan, beside, .. } = read.map_err(|refused| hinted(refused, args))?;
    let changed = input::is_of_changed_menu(&args.plan, &plan, planner.problem(), io);
    let planned = match beside.filter(|_| !changed) {
        Some(beside) => beside.planned(plan, &mut words),
        None => Planned::from(plan),
    };
    let feast = planner.with(planned).map_err(|error| match error {
        Error::Start(broken) => {
            let text = sheet::broken_plan(&args.plan, &words, &broken, style.look);
            hinted(Refusal::shown(text, Exit::BadInput), args)
        }
        error => refusal(&error),
    })?;
    // A bare plan, or one of a menu that was changed, comes without odds that hold.
    words.odds = words.odds.or_else(|| chances::of(&feast));
    hand_over::hand_over(&args.sheets, &View::new(&feast, &words), style, io)
}

/// Whoever named no menu may have meant another than the built-in one.
fn hinted(mut refused: Refusal, args: &ShowArgs) -> Refusal {
    if args.menu.is_none() && refused.exit == Exit::BadInput {
        refused.text += "No menu was named, so the built-in supper was meant: name another with --menu.\n";
    }
    refused
}
