//! How long everything really takes on one evening.

use std::collections::BTreeMap;

use rangewright::models::problem::{Minute, Mode, Problem};

use crate::random::Draw;

/// How one evening turns out: the same number, the same evening.
///
/// Errors are correlated: a part is the evening's (guests in the kitchen, a tired cook), a part the place's (an oven that runs
/// cool), a part the dish's, the rest the step's own. All of them are our assumptions.
#[derive(Clone, Debug)]
pub struct Luck {
    /// For each step, how far it is off, in deviations of about one.
    off: BTreeMap<String, f64>,
    place: BTreeMap<String, f64>,
    evening: f64,
}

/// What hands-on work is off by, of its minutes, at one deviation.
const HANDS: f64 = 0.15;
/// The same for what cooks by itself and states no spread.
const ALONE: f64 = 0.06;

impl Luck {
    /// The evening with this number.
    pub fn new(problem: &Problem, number: u64) -> Self {
        let mut draw = Draw::new(number);
        let evening = draw.bell();
        let place = problem.places.iter().map(|place| (place.id().to_owned(), draw.bell())).collect();
        let dishes: BTreeMap<&str, f64> = problem.dishes.iter().map(|dish| (dish.id.as_str(), draw.bell())).collect();
        let off = |step: &rangewright::models::problem::Step| {
            let dish = dishes.get(step.dish.as_str()).copied().unwrap_or(0.0);
            (step.id.clone(), 0.4 * dish + 0.7 * draw.bell())
        };
        let off = problem.steps.iter().map(off).collect();
        Luck { off, place, evening }
    }

    /// The minutes a step takes in a way; of what is elastic, the least.
    pub fn minutes(&self, step: &str, mode: &Mode) -> Minute {
        if mode.min < mode.max && mode.hands == 0 {
            return mode.min;
        }
        let place = mode.place.as_ref().and_then(|place| self.place.get(place)).copied().unwrap_or(0.0);
        let own = self.off.get(step).copied().unwrap_or(0.0);
        let shared = if mode.hands > 0 { self.evening } else { place };
        let off = own + 0.5 * shared;
        let minutes = mode.min as f64;
        let more = match mode.spread {
            // A spread is read as nine evenings in ten.
            Some([early, late]) => off / 1.6 * if off < 0.0 { early as f64 } else { late as f64 },
            None if mode.hands > 0 => off * HANDS * minutes,
            None => off * ALONE * minutes,
        };
        ((minutes + more).round() as Minute).clamp((mode.min / 2).max(1.min(mode.min)), 3 * mode.min.max(1))
    }
}
