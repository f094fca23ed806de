//! What is used to the limit, and when.

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Cook, Minute, Mode, Place, Problem};
use serde::{Deserialize, Serialize};

/// Something of which there is only so much.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Scarce {
    /// All hands of the shift.
    Hands,
    /// A cavity with something in it, all burners of a hob, or a top with a pan on it.
    Place {
        /// Its id.
        place: String,
    },
    /// All of a pool.
    Pool {
        /// Its id.
        pool: String,
    },
}

/// When something is used to the limit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Busy {
    /// What.
    pub what: Scarce,
    /// When, `[start, end)`, in order; breaks of up to [`BREAK`] minutes are passed over.
    pub stretches: Vec<[Minute; 2]>,
    /// Minutes in all, without the breaks.
    pub minutes: Minute,
}

/// A break of no more than this is none, minutes: nothing else could be done in it.
pub const BREAK: Minute = 5;
/// A stretch shorter than this is no bottleneck, minutes.
const SHORTEST: Minute = 10;

/// What a plan uses to the limit for ten minutes on end or more: hands first, then places and pools in the problem's order.
pub fn busy(problem: &Problem, plan: &Plan) -> Vec<Busy> {
    let modes: Vec<(&Mode, Minute, Minute)> = problem
        .steps
        .iter()
        .filter_map(|step| {
            let planned = plan.steps.get(&step.id)?;
            Some((step.modes.get(planned.mode)?, planned.start, planned.end))
        })
        .collect();
    let mut found = Vec::new();
    let pieces: Vec<(Minute, Minute, i64)> =
        modes.iter().flat_map(|&(mode, start, end)| pieces(mode, start, end)).collect();
    let hands = |minute: Minute| {
        if !problem.cooks.is_empty() {
            let there = |cook: &&Cook| cook.shifts.iter().any(|hours| (hours.start..hours.end).contains(&minute));
            return problem.cooks.iter().filter(there).count() as i64;
        }
        problem.shifts.iter().find(|shift| (shift.start..shift.end).contains(&minute)).map_or(0, |shift| shift.hands)
    };
    found.extend(stretches(Scarce::Hands, &pieces, hands));
    for place in &problem.places {
        let there = modes.iter().filter(|(mode, _, _)| mode.place.as_deref() == Some(place.id()));
        let used: Vec<(Minute, Minute, i64)> = there.map(|&(_, start, end)| (start, end, 1)).collect();
        let most = if let Place::Hob(hob) = place { hob.count } else { 1 };
        found.extend(stretches(Scarce::Place { place: place.id().to_owned() }, &used, |_| most));
    }
    for (pool, &most) in &problem.pools {
        let used: Vec<(Minute, Minute, i64)> =
            modes.iter().filter_map(|&(mode, start, end)| Some((start, end, *mode.pools.get(pool)?))).collect();
        found.extend(stretches(Scarce::Pool { pool: pool.clone() }, &used, |_| most));
    }
    found
}

/// When hands are busy with a step, and how many.
fn pieces(mode: &Mode, start: Minute, end: Minute) -> Vec<(Minute, Minute, i64)> {
    let mut pieces = vec![(start, end, mode.hands), (start, start + mode.load, 1), (end - mode.unload, end, 1)];
    pieces.extend(mode.touches.iter().map(|touch| (start + touch.at, start + touch.at + touch.minutes, 1)));
    pieces.retain(|&(from, to, hands)| from < to && hands > 0);
    pieces
}

fn stretches(what: Scarce, used: &[(Minute, Minute, i64)], most: impl Fn(Minute) -> i64) -> Option<Busy> {
    let mut cuts: Vec<Minute> = used.iter().flat_map(|&(from, to, _)| [from, to]).collect();
    cuts.sort_unstable();
    cuts.dedup();
    let mut stretches: Vec<[Minute; 2]> = Vec::new();
    let mut minutes = 0;
    for cut in cuts.windows(2) {
        let [from, to] = [cut[0], cut[1]];
        let uses: i64 = used.iter().filter(|(start, end, _)| *start <= from && from < *end).map(|used| used.2).sum();
        if uses == 0 || uses < most(from) {
            continue;
        }
        minutes += to - from;
        match stretches.last_mut() {
            Some(last) if from - last[1] <= BREAK => last[1] = to,
            _ => stretches.push([from, to]),
        }
    }
    stretches.retain(|[from, to]| to - from >= SHORTEST);
    (!stretches.is_empty()).then_some(Busy { what, stretches, minutes })
}

/// Minutes of hands in the 60 minutes before each serving.
pub(super) fn last_hour(problem: &Problem, plan: &Plan) -> Minute {
    let before_serving = |minute: Minute| plan.served.values().any(|&served| (served - 60..served).contains(&minute));
    let planned = problem.steps.iter().filter_map(|step| {
        let planned = plan.steps.get(&step.id)?;
        Some(pieces(step.modes.get(planned.mode)?, planned.start, planned.end))
    });
    planned
        .flatten()
        .map(|(from, to, hands)| hands * (from..to).filter(|&minute| before_serving(minute)).count() as i64)
        .sum()
}
