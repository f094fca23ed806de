//! From "no" to the few demands that make it so.

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use serde::{Deserialize, Serialize};

use super::fact::Fact;
use super::without::{LAST_MINUTE, without};
use crate::probe::{Finding, Probe};
use crate::{Error, Limits};

/// The answer to "why not?".
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// But there is a plan; this is one, not the best.
    Possible(Plan),
    /// These demands cannot all be met.
    Because(Explanation),
    /// A limit was reached before even that was known.
    Undecided,
}

/// Demands that cannot all be met.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Explanation {
    /// The demands. Giving up all others ([`without`]) still leaves no plan.
    pub facts: Vec<Fact>,
    /// Without any one of them there is a plan, and each such plan was found. False if a limit struck in between.
    pub smallest: bool,
}

/// Hands are looked at in stretches no finer than this.
const HANDS_GRAIN: Minute = 5;

/// Says why a problem has no plan.
///
/// Demands are given up one after the other, many at a time where that works, as long as there is still no plan. What is
/// left is a smallest set: the same problem with all other demands given up is impossible, and giving up any one more
/// makes it possible. Dishes are given up first, so that the answer speaks of as few as possible.
///
/// `limits.work` and `limits.stop` limit the whole; the same work limit gives the same answer.
///
/// # Errors
/// As [`solve`](crate::solve).
pub fn why_not(problem: &Problem, limits: &Limits<'_>) -> Result<Verdict, Error> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(Error::Refused(faults));
    }
    let mut filter = Filter { problem, probe: Probe::new(limits), given_up: Vec::new(), smallest: true };
    match filter.probe.find(problem)? {
        Finding::Plan(plan) => return Ok(Verdict::Possible(plan)),
        Finding::Unknown => return Ok(Verdict::Undecided),
        Finding::None => {}
    }
    let facts = Fact::all(problem);
    let mut kept = Vec::new();
    // Dishes first, then one kind of demand after the other.
    let (dishes, rules): (Vec<Fact>, Vec<Fact>) = facts.into_iter().partition(|fact| matches!(fact, Fact::Dish { .. }));
    filter.reduce(dishes, &mut kept)?;
    for group in rules.chunk_by(|a, b| a.kind() == b.kind()) {
        filter.reduce(group.to_vec(), &mut kept)?;
    }
    if problem.cooks.is_empty() && !filter.probe.is_halted() {
        filter.narrow_hands(&mut kept)?;
    }
    Ok(Verdict::Because(Explanation { facts: kept, smallest: filter.smallest }))
}

struct Filter<'p, 'l> {
    problem: &'p Problem,
    probe: Probe<'l>,
    given_up: Vec<Fact>,
    smallest: bool,
}

impl Filter<'_, '_> {
    /// Gives up as many of these facts as leave no plan; the others are kept.
    fn reduce(&mut self, mut facts: Vec<Fact>, kept: &mut Vec<Fact>) -> Result<(), Error> {
        if facts.is_empty() {
            return Ok(());
        }
        if self.probe.is_halted() {
            self.smallest = false;
            kept.append(&mut facts);
            return Ok(());
        }
        let relaxed = without(self.problem, &[self.given_up.as_slice(), &facts].concat());
        match self.probe.find(&relaxed)? {
            Finding::None => self.given_up.append(&mut facts),
            finding if facts.len() == 1 => {
                self.smallest &= matches!(finding, Finding::Plan(_));
                kept.append(&mut facts);
            }
            _ => {
                let rest = facts.split_off(facts.len() / 2);
                self.reduce(facts, kept)?;
                self.reduce(rest, kept)?;
            }
        }
        Ok(())
    }

    /// Hands that are scarce all day are scarce within some hours: the shortest stretch that still leaves no plan.
    fn narrow_hands(&mut self, kept: &mut [Fact]) -> Result<(), Error> {
        let Some(hands) = kept.iter_mut().find(|fact| matches!(fact, Fact::Hands { .. })) else { return Ok(()) };
        let start = self.problem.opening;
        let end = super::fact::last_serving(self.problem);
        // The latest beginning, then the earliest end, of a stretch in which the limit on hands alone leaves no plan.
        let count = |from: Minute, to: Minute| (to - from + HANDS_GRAIN - 1) / HANDS_GRAIN;
        let steps = count(start, end);
        let mut from = 0;
        let mut low_from = (0, steps);
        while low_from.1 - low_from.0 > 1 {
            let middle = (low_from.0 + low_from.1) / 2;
            if self.scarce(start + middle * HANDS_GRAIN, LAST_MINUTE)? {
                low_from.0 = middle;
            } else {
                low_from.1 = middle;
            }
            from = low_from.0;
        }
        let from = start + from * HANDS_GRAIN;
        let mut bounds = (0, count(from, end));
        while bounds.1 - bounds.0 > 1 {
            let middle = (bounds.0 + bounds.1) / 2;
            if self.scarce(from, from + middle * HANDS_GRAIN)? {
                bounds.1 = middle;
            } else {
                bounds.0 = middle;
            }
        }
        let to = from + bounds.1 * HANDS_GRAIN;
        if self.scarce(from, to)? {
            *hands = Fact::Hands { from, to };
        }
        Ok(())
    }

    /// Whether limiting hands within these minutes only still leaves no plan.
    fn scarce(&mut self, from: Minute, to: Minute) -> Result<bool, Error> {
        let outside = [Fact::Hands { from: 0, to: from }, Fact::Hands { from: to, to: LAST_MINUTE }];
        let relaxed = without(self.problem, &[self.given_up.as_slice(), &outside].concat());
        Ok(matches!(self.probe.find(&relaxed)?, Finding::None))
    }
}
