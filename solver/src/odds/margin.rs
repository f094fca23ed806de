//! More minutes where they help most.

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use rangewright_models::schedule::Crew;
use serde::{Deserialize, Serialize};

use super::{Dice, Odds, Ranges, WITHIN, odds};
use crate::{Error, Limits, Outcome, solve};

/// Minutes that are added to one step at a time.
const STEP: Minute = 5;
/// The most steps that are given more minutes, one after the other.
const ROUNDS: usize = 24;
/// Steps that are tried in each round: those that the risk comes from.
const TRIED: usize = 3;

/// More minutes for one step, and what they bring.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Margin {
    /// The step.
    pub step: String,
    /// Minutes planned for it in addition.
    pub minutes: Minute,
    /// Evenings in which all courses are within the tolerance, after this margin and those before it.
    pub kept: usize,
    /// By how much the mean cost of waiting grew by it.
    pub waiting: i64,
}

/// Margins, and the plan with them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Margins {
    /// The margins in the order in which they were chosen: the first minutes are those that help most.
    pub margins: Vec<Margin>,
    /// The problem with the margins in the steps' minutes.
    pub problem: Problem,
    /// Its plan.
    pub plan: Plan,
    /// The odds before.
    pub before: Odds,
    /// The odds with the margins.
    pub after: Odds,
    /// Whether the wanted confidence was reached.
    pub reached: bool,
}

/// Plans more minutes for the steps that the risk comes from until, in `percent` of the evenings, every course is served
/// within `tolerance` minutes of its hour.
///
/// Each round adds five minutes to that step, among those most to blame, with which the odds rise most, and plans again;
/// `limits` are those of each planning.
/// `tolerance` is rounded to one of [`WITHIN`].
///
/// # Errors
/// As [`odds`] and [`solve`].
#[allow(clippy::too_many_arguments)] // A plan with all that is known of it, and a wish.
pub fn margins(
    problem: &Problem,
    plan: &Plan,
    crew: &Crew,
    ranges: &Ranges,
    dice: Dice,
    percent: u32,
    tolerance: Minute,
    limits: &Limits<'_>,
) -> Result<Margins, Error> {
    let within = WITHIN.iter().position(|&minutes| tolerance <= minutes).unwrap_or(WITHIN.len() - 1);
    let wanted = (dice.evenings * percent as usize).div_ceil(100);
    // The minutes that a step is likely to take must not grow with the minutes planned for it.
    let mut known = ranges.clone();
    for step in &problem.steps {
        if let Some(mode) = plan.steps.get(&step.id).and_then(|own| step.modes.get(own.mode)) {
            known.entry(step.id.clone()).or_insert(super::Range::exactly(mode.min));
        }
    }
    let before = odds(problem, plan, crew, &known, dice)?;
    let mut best = Try { problem: problem.clone(), plan: plan.clone(), odds: before.clone() };
    let mut margins: Vec<Margin> = Vec::new();
    while best.odds.kept[within] < wanted && margins.len() < ROUNDS {
        let mut found: Option<(Try, String)> = None;
        for step in best.odds.risks.iter().take(TRIED).map(|risk| risk.step.clone()) {
            let Some(next) = best.with_more(&step, crew, &known, dice, limits)? else { continue };
            let worth = |own: &Try| (own.odds.kept[within], -own.odds.waiting.mean);
            let helps = next.odds.kept[within] > best.odds.kept[within];
            if helps && found.as_ref().is_none_or(|(other, _)| worth(&next) > worth(other)) {
                found = Some((next, step));
            }
        }
        let Some((next, step)) = found else { break };
        margins.push(Margin {
            step,
            minutes: STEP,
            kept: next.odds.kept[within],
            waiting: next.odds.waiting.mean - best.odds.waiting.mean,
        });
        best = next;
    }
    let reached = best.odds.kept[within] >= wanted;
    Ok(Margins { margins, problem: best.problem, plan: best.plan, before, after: best.odds, reached })
}

struct Try {
    problem: Problem,
    plan: Plan,
    odds: Odds,
}

impl Try {
    /// The same with more minutes for one step; `None` if there is no plan with them, or none that is as punctual.
    fn with_more(
        &self,
        step: &str,
        crew: &Crew,
        ranges: &Ranges,
        dice: Dice,
        limits: &Limits<'_>,
    ) -> Result<Option<Try>, Error> {
        let mut problem = self.problem.clone();
        for mode in problem.steps.iter_mut().filter(|own| own.id == step).flat_map(|own| &mut own.modes) {
            mode.min += STEP;
            mode.max = mode.max.max(mode.min);
        }
        let outcome = solve(&problem, &Limits { start: None, ..*limits })?;
        let Outcome::Planned(planned) = outcome else { return Ok(None) };
        if planned.plan.lateness > self.plan.lateness {
            return Ok(None);
        }
        let odds = odds(&problem, &planned.plan, crew, ranges, dice)?;
        Ok(Some(Try { problem, plan: planned.plan, odds }))
    }
}
