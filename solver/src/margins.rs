//! More minutes where they help most.

use std::collections::BTreeMap;

use rangewright_models::check::{Cost, check, cost};
use rangewright_models::plan::{Plan, Status};
use rangewright_models::problem::{Minute, Problem};
use rangewright_models::schedule::Crew;
use serde::{Deserialize, Serialize};

use crate::calm::{calm, with_room};
use crate::odds::{Dice, Odds, Ranges, odds};
use crate::{Error, Limits, Outcome, solve};

/// Minutes that are added to one step at a time.
const STEP: Minute = 3;
/// Room within the plan as it is comes first: the least of these percentages more waiting that is enough.
const PRICES: [u32; 4] = [5, 10, 20, 40];
/// The most steps that are given more minutes, one after the other.
const ROUNDS: usize = 24;
/// Steps that are tried in each round: those that the risk comes from.
const TRIED: usize = 3;
/// Work of each planning while margins are sought: a good plan, in a moment.
const WORK: u64 = 1_500;

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
    /// What was asked for: in how many evenings of a hundred every course is to keep its hour.
    pub wanted: u32,
    /// The margins in the order in which they were chosen: the first minutes are those that help most.
    pub margins: Vec<Margin>,
    /// The plan with room for them: what comes after a step begins so much later than the step needs.
    pub plan: Plan,
    /// The odds before.
    pub before: Odds,
    /// The odds of the plan with the margins.
    pub after: Odds,
    /// By how much the waiting of food costs more than in the plan before, in an evening without surprises.
    pub waiting: i64,
    /// Whether the wanted confidence was reached.
    pub reached: bool,
}

/// Leaves room after the steps that the risk comes from until, in `percent` of the evenings, every course is served within
/// the dice's minutes of its hour.
///
/// Minutes are moved first ([`calm`]): in the plan's own order, for as little waiting as is enough. If that does not do, each
/// round adds three minutes to that step, among those most to blame, with which the odds rise most, and plans again;
/// `limits` are those of the whole, each round takes a little of the work. The plan is one of the problem as it is, and the
/// odds are those of that plan: a step takes its own minutes, and the margin is food that waits.
///
/// # Errors
/// As [`odds`] and [`solve`].
pub fn margins(
    problem: &Problem,
    plan: &Plan,
    crew: &Crew,
    ranges: &Ranges,
    dice: Dice,
    percent: u32,
    limits: &Limits<'_>,
) -> Result<Margins, Error> {
    let wanted = (dice.evenings * percent as usize).div_ceil(100);
    let asked = Asked { problem, crew, ranges, dice, percent, before: plan };
    let before = odds(problem, plan, crew, ranges, dice)?;
    let mut best = Try { padded: problem.clone(), plan: plan.clone(), odds: before.clone() };
    let mut calmest = best.clone();
    for price in PRICES {
        if calmest.odds.kept_within >= wanted {
            break;
        }
        let calm = calm(problem, plan, crew, ranges, price, None)?.plan;
        let odds = odds(problem, &calm, crew, ranges, dice)?;
        if odds.kept_within > calmest.odds.kept_within {
            calmest = Try { plan: calm, odds, ..best.clone() };
        }
    }
    if calmest.odds.kept_within >= wanted {
        return Ok(calmest.with(Vec::new(), before, &asked, true));
    }
    let mut margins: Vec<Margin> = Vec::new();
    let quick = Limits { start: None, work: Some(limits.work.unwrap_or(WORK).min(WORK)), ..*limits };
    while best.odds.kept_within < wanted && margins.len() < ROUNDS {
        let mut found: Option<(Try, String)> = None;
        for step in best.odds.risks.iter().take(TRIED).map(|risk| risk.step.clone()) {
            let Some(next) = asked.planned(padded(&best.padded, &step), &quick)? else { continue };
            let worth = |own: &Try| (own.odds.kept_within, -own.odds.waiting.mean);
            let helps = next.odds.kept_within > best.odds.kept_within;
            if helps && found.as_ref().is_none_or(|(other, _)| worth(&next) > worth(other)) {
                found = Some((next, step));
            }
        }
        let Some((next, step)) = found else { break };
        margins.push(Margin {
            step,
            minutes: STEP,
            kept: next.odds.kept_within,
            waiting: next.odds.waiting.mean - best.odds.waiting.mean,
        });
        best = next;
    }
    if !margins.is_empty() {
        // The margins are known: now the best plan with them, as far as the limits reach.
        let last = Limits { start: None, ..*limits };
        let better = asked.planned(best.padded.clone(), &last)?;
        let enough = |own: &Try| own.odds.kept_within >= wanted.min(best.odds.kept_within);
        if let Some(better) = better.filter(|own| enough(own) && own.plan.waiting < best.plan.waiting) {
            best = better;
        }
        let mut room: BTreeMap<&str, Minute> = BTreeMap::new();
        for margin in &margins {
            *room.entry(&margin.step).or_default() += margin.minutes;
        }
        // Margins kept in the order that was found, and nothing else waits longer than it must.
        if let Some(less) = with_room(problem, &best.plan, crew, &room).filter(|less| less.waiting < best.plan.waiting)
        {
            let odds = odds(problem, &less, crew, ranges, dice)?;
            if odds.kept_within >= wanted.min(best.odds.kept_within) {
                best = Try { plan: less, odds, ..best };
            }
        }
    }
    let reached = best.odds.kept_within >= wanted;
    if !reached && calmest.odds.kept_within >= best.odds.kept_within {
        return Ok(calmest.with(Vec::new(), before, &asked, false));
    }
    Ok(best.with(margins, before, &asked, reached))
}

/// What every try has in common.
struct Asked<'a> {
    problem: &'a Problem,
    crew: &'a Crew,
    ranges: &'a Ranges,
    dice: Dice,
    percent: u32,
    before: &'a Plan,
}

#[derive(Clone)]
struct Try {
    /// The problem with the margins in the minutes of the steps.
    padded: Problem,
    /// A plan of the problem without them.
    plan: Plan,
    odds: Odds,
}

impl Try {
    fn with(self, margins: Vec<Margin>, before: Odds, asked: &Asked<'_>, reached: bool) -> Margins {
        let waiting = self.plan.waiting - asked.before.waiting;
        Margins { wanted: asked.percent, margins, plan: self.plan, before, after: self.odds, waiting, reached }
    }
}

impl Asked<'_> {
    /// A plan with room for the margins; `None` if there is none, none that is as punctual, or none that keeps the menu's
    /// rules when a step takes only its own minutes.
    fn planned(&self, padded: Problem, limits: &Limits<'_>) -> Result<Option<Try>, Error> {
        let Outcome::Planned(planned) = solve(&padded, limits)? else { return Ok(None) };
        if planned.plan.lateness > self.before.lateness {
            return Ok(None);
        }
        let Some(plan) = self.trimmed(planned.plan) else { return Ok(None) };
        let odds = odds(self.problem, &plan, self.crew, self.ranges, self.dice)?;
        Ok(Some(Try { padded, plan, odds }))
    }

    /// Each step ends when it has had its own minutes; what comes after begins when it was going to.
    fn trimmed(&self, mut plan: Plan) -> Option<Plan> {
        for step in &self.problem.steps {
            let planned = plan.steps.get_mut(&step.id)?;
            planned.end = planned.end.min(planned.start + step.modes.get(planned.mode)?.max);
        }
        let Cost { lateness, waiting, hot, .. } = cost(self.problem, &plan).ok()?;
        let made_for = Some(self.problem.fingerprint());
        // What was proved of the plan before holds for every plan that is as late.
        let [least, ..] = self.before.bounds;
        let bounds = [least.min(lateness), if lateness == self.before.lateness { self.before.bounds[1] } else { 0 }, 0];
        let plan = Plan { lateness, waiting, hot, bounds, status: Status::Feasible, made_for, ..plan };
        check(self.problem, &plan).is_ok().then_some(plan)
    }
}

/// The problem with a margin in the minutes of a step.
fn padded(problem: &Problem, step: &str) -> Problem {
    let mut padded = problem.clone();
    for mode in padded.steps.iter_mut().filter(|own| own.id == step).flat_map(|own| &mut own.modes) {
        mode.min += STEP;
        mode.max = mode.max.max(mode.min);
    }
    padded
}
