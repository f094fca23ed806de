//! `rangewright check`.

use std::path::Path;

use rangewright::models::check::check;
use rangewright::models::plan::Plan;

use crate::args::CheckArgs;
use crate::input::{self, Input, Refusal};
use crate::sheet::Page;
use crate::words::{Words, count, minutes};
use crate::{Exit, Io};

pub(super) fn run(args: &CheckArgs, io: &mut Io<'_>) -> Exit {
    match answer(args, io) {
        Ok(text) => io.print(&text, Exit::Planned),
        Err(refusal) => io.complain(&refusal.text, refusal.exit),
    }
}

fn answer(args: &CheckArgs, io: &mut Io<'_>) -> Result<String, Refusal> {
    let Input { problem, mut words } = input::read(Some(&args.menu), io)?;
    super::adapt(&mut words, &args.look);
    let mut page = Page::new(super::look(&args.look, io));
    let courses = count(problem.courses.len(), "course", "courses");
    let dishes = count(problem.dishes.len(), "dish", "dishes");
    let steps = count(problem.steps.len(), "step", "steps");
    page.line(&format!("No faults: {courses}, {dishes}, {steps}."));
    let Some(path) = &args.plan else { return Ok(page.finish()) };
    let plan = saved(path, io)?;
    let cost = check(&problem, &plan).map_err(|violations| {
        let lines: Vec<String> = violations.iter().map(|violation| format!("error: {violation}\n")).collect();
        let broken = count(violations.len(), "rule is broken", "rules are broken");
        Refusal::new(format!("{}{}: {broken}\n", lines.concat(), path.display()), Exit::BadInput)
    })?;
    page.line("The plan keeps to all of them.");
    for (course, served) in &cost.served {
        page.line(&format!("{} {}: {}", words.day(*served), words.clock(*served), Words::course(&words, course)));
    }
    page.line(&format!("Lateness {}, waiting {}, ovens hot for {}.", cost.lateness, cost.waiting, minutes(cost.hot)));
    Ok(page.finish())
}

/// A plan by itself, or the answer of `plan --format json` with the plan in it.
fn saved(path: &Path, io: &mut Io<'_>) -> Result<Plan, Refusal> {
    let shown = path.display();
    let text = io
        .read(path)
        .map_err(|error| Refusal::new(format!("error: cannot read {shown}: {}\n", error.why), error.exit))?;
    let bad = |error: serde_json::Error| Refusal::new(format!("error: {shown} is no plan: {error}\n"), Exit::BadInput);
    let mut value: serde_json::Value = serde_json::from_str(&text).map_err(bad)?;
    if let Some(inner) = value.get_mut("plan") {
        value = inner.take();
    }
    serde_json::from_value(value).map_err(bad)
}
