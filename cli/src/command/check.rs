//! `rangewright check`.

use rangewright::models::caution::{Caution, Weight};
use rangewright::models::check::check;
use rangewright::models::problem::Step;

use crate::args::CheckArgs;
use crate::input::{self, Input, Refusal};
use crate::sheet::{self, Page};
use crate::words::{Words, capital, count, minutes};
use crate::{Exit, Io};

pub(super) fn run(args: &CheckArgs, io: &mut Io<'_>) -> Exit {
    match answer(args, io) {
        Ok(text) => io.print(&text, Exit::Planned),
        Err(refusal) => io.complain(&refusal.text, refusal.exit),
    }
}

/// The limits of food safety that a step breaks in whichever way it is done.
fn broken_limits<'a>(words: &'a Words, step: &'a Step) -> impl Iterator<Item = &'a Caution> {
    let in_every_way = |caution: &&Caution| {
        let mut ways = 0..step.modes.len();
        ways.all(|way| words.cautions(&step.id, way).any(|own| own.text == caution.text))
    };
    words.cautions(&step.id, 0).filter(|caution| caution.weight == Weight::Breach).filter(in_every_way)
}

fn answer(args: &CheckArgs, io: &mut Io<'_>) -> Result<String, Refusal> {
    let Input { planner, mut words } = input::read(Some(&args.menu), super::wish(&args.look), io)?;
    let problem = planner.problem();
    super::adapt(&mut words, &args.look);
    let mut page = Page::new(super::look(&args.look, io));
    let courses = count(problem.courses.len(), "course", "courses");
    let dishes = count(problem.dishes.len(), "dish", "dishes");
    let steps = count(problem.steps.len(), "step", "steps");
    page.line(&format!("No faults: {courses}, {dishes}, {steps}."));
    for step in &problem.steps {
        for caution in broken_limits(&words, step) {
            let text =
                format!("LIMIT BROKEN: {}: {} [{}]", words.dish_of(&step.id), caution.text, caution.source.cited());
            page.point(&text);
        }
    }
    let Some(path) = &args.plan else { return Ok(page.finish()) };
    let plan = input::saved_plan(path, problem, io)?;
    let look = super::look(&args.look, io);
    let cost = check(problem, &plan)
        .map_err(|broken| Refusal::shown(sheet::broken_plan(path, &words, &broken, look), Exit::BadInput))?;
    page.line("The plan keeps to every rule.");
    let mut served: Vec<_> = cost.served.iter().collect();
    served.sort_by_key(|(_, minute)| **minute);
    for (course, &minute) in served {
        let late = problem.courses.iter().find(|own| own.id == *course).map_or(0, |own| minute - own.serve);
        let late = if late > 0 { format!(", {} later than wanted", minutes(late)) } else { String::new() };
        page.line(&format!("{}, {}: {}{late}.", words.day(minute), words.clock(minute), capital(words.course(course))));
    }
    page.line(&format!("Waiting costs {}; ovens are kept hot for {}.", cost.waiting, minutes(cost.hot)));
    Ok(page.finish())
}
