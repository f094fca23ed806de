//! `rangewright check`.

use rangewright::Limits;
use rangewright::mend::{Mend, mends};
use rangewright::models::caution::{Weight, of_plan};
use rangewright::models::check::check;
use rangewright::models::hazard;
use rangewright::models::larder::Food;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;

use crate::args::{AskFormat, CheckArgs};
use crate::input::{self, Input, Refusal};
use crate::json::{self, Asked};
use crate::sheet::{self, Page};
use crate::words::{Words, capital, count, minutes};
use crate::{Exit, Io};

pub(super) fn run(args: &CheckArgs, io: &mut Io<'_>) -> Exit {
    super::tell(answer(args, io), Asked::Check, args.format == AskFormat::Json, io)
}

/// The limits of food safety that the menu breaks in any case, with what mends them, and those that this plan breaks.
fn broken_limits(problem: &Problem, words: &Words, plan: Option<&Plan>) -> Vec<String> {
    // What cannot be tried is said without a change that mends it.
    let mut found = mends(problem, &words.labels, &Limits::default()).unwrap_or_else(|_| {
        let broken = hazard::broken(problem, &words.labels).into_iter();
        broken.map(|(caution, steps)| Mend { caution, steps, ways: Vec::new() }).collect()
    });
    let of_plan = plan.map_or_else(Vec::new, |plan| of_plan(problem, &words.labels, plan));
    for own in of_plan.into_iter().filter(|own| own.caution.weight == Weight::Breach) {
        if !found.iter().any(|known| known.caution == own.caution) {
            found.push(Mend { caution: own.caution, steps: own.steps, ways: Vec::new() });
        }
    }
    sheet::broken_limits(words, &found)
}

/// Asks what is in a dish that looks like food that calls for care.
fn unknown_food(problem: &Problem, words: &Words) -> Vec<String> {
    let dishes = problem.dishes.iter().filter_map(|dish| words.labels.dishes.get(&dish.id));
    let ask = dishes.filter_map(|dish| {
        let (food, word) = dish.contents.unknown.as_ref()?;
        let said = match food {
            Food::Dairy => "allergens: [\"milk\"]".to_owned(),
            own => format!("contains: [{own}]"),
        };
        Some(format!(
            "WARNING: does {} contain {food}? {word:?} sounds like it, and the menu does not say: write {said}, or without: [\"{food}\"]",
            dish.name
        ))
    });
    ask.collect()
}

fn answer(args: &CheckArgs, io: &mut Io<'_>) -> Result<(String, Exit), Refusal> {
    let Input { planner, mut words, doubts } = input::read(Some(&args.menu), super::wish(&args.look), io)?;
    let problem = planner.problem();
    super::adapt(&mut words, &args.look);
    let plan = args.plan.as_ref().map(|path| input::saved_plan(path, problem, io)).transpose()?;
    let broken = broken_limits(problem, &words, plan.as_ref());
    let exit = if broken.is_empty() { Exit::Planned } else { Exit::Impossible };
    let look = super::look(&args.look, io);
    let cost = match (&args.plan, &plan) {
        (Some(path), Some(plan)) => {
            let cost = check(problem, plan)
                .map_err(|broken| Refusal::shown(sheet::broken_plan(path, &words, &broken, look), Exit::BadInput))?;
            Some(cost)
        }
        _ => None,
    };
    if args.format == AskFormat::Json {
        return Ok((json::sound(&words, problem, &broken, &doubts), exit));
    }
    let mut page = Page::new(look);
    let courses = count(problem.courses.len(), "course", "courses");
    let dishes = count(problem.dishes.len(), "dish", "dishes");
    let steps = count(problem.steps.len(), "step", "steps");
    page.line(&format!("No faults: {courses}, {dishes}, {steps}."));
    for doubt in &doubts {
        let at = doubt.at.as_ref().map_or_else(String::new, |at| format!(", {} line {}", at.file, at.line));
        page.point(&format!("Is this meant? {} ({}{at}): {}", capital(&doubt.cause), doubt.code, doubt.remedy));
    }
    broken.iter().for_each(|line| page.point(line));
    unknown_food(problem, &words).iter().for_each(|line| page.point(line));
    let Some(cost) = cost else { return Ok((page.finish(), exit)) };
    page.line("The plan keeps to every rule.");
    let mut served: Vec<_> = cost.served.iter().collect();
    served.sort_by_key(|(_, minute)| **minute);
    for (course, &minute) in served {
        let late = problem.courses.iter().find(|own| own.id == *course).map_or(0, |own| minute - own.serve);
        let late = if late > 0 { format!(", {} later than wanted", minutes(late)) } else { String::new() };
        page.line(&format!("{}, {}: {}{late}.", words.day(minute), words.clock(minute), capital(words.course(course))));
    }
    page.line(&format!("Waiting costs {}; ovens are kept hot for {}.", cost.waiting, minutes(cost.hot)));
    Ok((page.finish(), exit))
}
