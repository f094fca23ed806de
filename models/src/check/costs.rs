//! What a plan costs: lateness, waiting and hot minutes.

use crate::problem::{Minute, Wait};

use super::Cost;
use super::facts::{Facts, Run};

pub(super) fn cost(facts: &Facts<'_>) -> Cost {
    let courses = facts.problem.courses.iter().zip(&facts.served);
    Cost {
        lateness: courses.clone().map(|(course, &served)| course.weight * (served - course.serve).max(0)).sum(),
        waiting: waiting(facts),
        hot: facts.cavities().map(|(cavity, runs)| hot(&runs, cavity.cool_off)).sum(),
        served: courses.map(|(course, &served)| (course.id.clone(), served)).collect(),
    }
}

fn waiting(facts: &Facts<'_>) -> i64 {
    let links = facts.problem.links.iter().map(|link| {
        let gap = facts.run(&link.to).start - facts.run(&link.from).end;
        price(&link.wait, gap - link.min)
    });
    let steps = facts.runs.iter().map(|run| {
        let wait = run.mode.wait.as_ref().unwrap_or(&run.step.wait);
        price(wait, run.end - run.start - run.mode.min) + run.mode.cost
    });
    let sinks = facts.problem.courses.iter().zip(&facts.served).flat_map(|(course, &served)| {
        course.sinks.iter().map(move |sink| price(&sink.wait, served - facts.run(&sink.step).end))
    });
    links.sum::<i64>() + steps.sum::<i64>() + sinks.sum::<i64>()
}

fn price(wait: &Wait, minutes: Minute) -> i64 {
    let minutes = minutes.max(0);
    let past = wait.soft.map_or(0, |soft| (minutes - soft).max(0));
    wait.rate * minutes + (wait.rate_after - wait.rate) * past
}

/// Minutes in which a cavity is in use or kept hot in between. `runs` in order of their starts.
fn hot(runs: &[Run<'_>], cool_off: Minute) -> i64 {
    let mut minutes = 0;
    let mut used_until: Option<Minute> = None;
    for run in runs {
        let from = match used_until {
            Some(until) if until >= run.start => until,
            Some(until) => {
                minutes += (run.start - until).min(cool_off);
                run.start
            }
            None => run.start,
        };
        minutes += (run.end - from).max(0);
        used_until = Some(from.max(run.end));
    }
    minutes
}
