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
use crate::json::{self, Asked, Sound, UnknownFood};
use crate::sheet::{self, Look, Page};
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
fn unknown_food(problem: &Problem, words: &Words) -> Vec<UnknownFood> {
    let ask = problem.dishes.iter().filter_map(|own| {
        let dish = words.labels.dishes.get(&own.id)?;
        let (food, word) = dish.contents.unknown.clone()?;
        let said = match food {
            Food::Dairy => "allergens: [\"milk\"]".to_owned(),
            own => format!("contains: [{own}]"),
        };
        let text = format!(
            "does {} contain {food}? {word:?} sounds like it, and the menu does not say: write {said}, or without: [\"{food}\"]",
            dish.name
        );
        Some(UnknownFood { dish: own.id.clone(), food, word, text })
    });
    ask.collect()
}

fn answer(args: &CheckArgs, io: &mut Io<'_>) -> Result<(String, Exit), Refusal> {
    let Input { planner, mut words, doubts } = input::read(Some(&args.menu), super::wish(&args.look), io)?;
    let problem = planner.problem();
    super::adapt(&mut words, &args.look);
    let plan = args.plan.as_ref().map(|path| input::saved_plan(path, problem, io)).transpose()?;
    let look = super::look(&args.look, io);
    let as_data = args.format == AskFormat::Json;
    let cost = match (&args.plan, &plan) {
        (Some(path), Some(plan)) => match check(problem, plan) {
            Ok(cost) => Some(cost),
            Err(broken) if as_data => {
                let rules: Vec<String> = broken.iter().map(|one| sheet::broken(&words, one)).collect();
                return Ok((json::broken_plan(&words, &rules), Exit::BadInput));
            }
            Err(broken) => {
                return Err(Refusal::shown(sheet::broken_plan(path, &words, &broken, look), Exit::BadInput));
            }
        },
        _ => None,
    };
    let limits = broken_limits(problem, &words, plan.as_ref());
    let unknown = unknown_food(problem, &words);
    let found = Sound {
        courses: problem.courses.len(),
        dishes: problem.dishes.len(),
        steps: problem.steps.len(),
        limits: &limits,
        doubts: &doubts,
        unknown_food: &unknown,
        cost: cost.as_ref(),
    };
    let exit = if limits.is_empty() { Exit::Planned } else { Exit::Impossible };
    let text = if as_data { json::sound(&words, &found) } else { said(&found, problem, &words, look) };
    Ok((text, exit))
}

fn said(found: &Sound<'_>, problem: &Problem, words: &Words, look: Look) -> String {
    let mut page = Page::new(look);
    let parts = [
        count(found.courses, "course", "courses"),
        count(found.dishes, "dish", "dishes"),
        count(found.steps, "step", "steps"),
    ];
    let warnings = found.doubts.len() + found.unknown_food.len();
    let but = [(found.limits.len(), "broken limit", "broken limits"), (warnings, "warning", "warnings")];
    let but: Vec<String> =
        but.iter().filter(|own| own.0 > 0).map(|(number, one, many)| count(*number, one, many)).collect();
    let but = if but.is_empty() { String::new() } else { format!(", but {}", but.join(" and ")) };
    page.line(&format!("No faults{but}: {}.", parts.join(", ")));
    for doubt in found.doubts {
        let at = doubt.at.as_ref().map_or_else(String::new, |at| format!(", {} line {}", at.file, at.line));
        page.point(&format!("Is this meant? {} ({}{at}): {}", capital(&doubt.cause), doubt.code, doubt.remedy));
    }
    found.limits.iter().for_each(|line| page.point(line));
    found.unknown_food.iter().for_each(|own| page.point(&format!("WARNING: {}", own.text)));
    let Some(cost) = found.cost else { return page.finish() };
    page.line("The plan keeps to every rule.");
    let mut served: Vec<_> = cost.served.iter().collect();
    served.sort_by_key(|(_, minute)| **minute);
    for (course, &minute) in served {
        let late = problem.courses.iter().find(|own| own.id == *course).map_or(0, |own| minute - own.serve);
        let late = if late > 0 { format!(", {} later than wanted", minutes(late)) } else { String::new() };
        page.line(&format!("{}, {}: {}{late}.", words.day(minute), words.clock(minute), capital(words.course(course))));
    }
    page.line(&format!("Waiting costs {}; ovens are kept hot for {}.", cost.waiting, minutes(cost.hot)));
    page.finish()
}
