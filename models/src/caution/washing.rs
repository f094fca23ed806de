//! Hands, boards and knives that had raw meat, poultry or fish are washed before the next dish: a job of its own.

use crate::hazard::{Night, handles_raw};
use crate::labels::Labels;
use crate::plan::Plan;
use crate::problem::{Minute, Problem};
use crate::schedule::{Job, Schedule, What};

/// Minutes a wash takes (common practice, no source).
const WASH: Minute = 1;

/// Puts a wash into each cook's jobs where raw flesh was handled and another dish comes next. It takes its minute where there
/// is one; where the next job begins at once it is done in passing, and no job moves.
pub fn add_washing(schedule: &mut Schedule, problem: &Problem, labels: &Labels, plan: &Plan) {
    let night = Night::new(problem, labels, plan);
    let raw: Vec<(&str, &str)> = night
        .spells
        .iter()
        .filter(|spell| handles_raw(spell))
        .map(|spell| (spell.step.id.as_str(), &*spell.step.dish))
        .collect();
    let dish_of = |step: &str| problem.steps.iter().find(|own| own.id == step).map(|own| own.dish.as_str());
    let mut washes: Vec<Job> = Vec::new();
    for cook in 0..schedule.cooks.len() {
        let mut soiled: Option<(&str, &str, Minute)> = None;
        for job in schedule.jobs.iter().filter(|job| job.what.busy() && job.cooks.contains(&cook)) {
            let Some(step) = job.what.step() else { continue };
            let handled = raw.iter().find(|(own, _)| *own == step);
            soiled = match (soiled, handled) {
                // The next dish is soiled by what is on the hands.
                (Some((from, dish, until)), _) if dish_of(step) != Some(dish) => {
                    washes.push(wash(cook, from, until, job.at));
                    handled.map(|&(own, dish)| (own, dish, job.until))
                }
                // Into the oven with it, then to the sink.
                (Some((from, dish, until)), None)
                    if matches!(job.what, What::PutIn { .. }) && job.at - until <= WASH =>
                {
                    Some((from, dish, job.until))
                }
                (known, None) => known,
                (_, Some(&(own, dish))) => Some((own, dish, job.until)),
            };
        }
        if let Some((from, _, until)) = soiled {
            washes.push(wash(cook, from, until, Minute::MAX));
        }
    }
    schedule.jobs.extend(washes);
    schedule.jobs.sort_by(|a, b| (a.at, &a.what, a.until).cmp(&(b.at, &b.what, b.until)));
}

fn wash(cook: usize, from: &str, at: Minute, next: Minute) -> Job {
    Job {
        at,
        until: at.saturating_add(WASH).min(next).max(at),
        cooks: vec![cook],
        what: What::Wash { after: from.to_owned() },
    }
}
