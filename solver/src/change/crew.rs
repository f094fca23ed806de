//! One more cook.

use rangewright_models::problem::{Cook, Hours, Problem};

/// Adds so many cooks who may do everything and are there whenever somebody is.
pub(super) fn add(problem: &mut Problem, cooks: i64) {
    let mut there: Vec<Hours> = problem.cooks.iter().flat_map(|cook| cook.shifts.clone()).collect();
    there.sort_unstable_by_key(|hours| (hours.start, hours.end));
    let mut shifts: Vec<Hours> = Vec::new();
    for hours in there {
        match shifts.last_mut() {
            Some(last) if last.end >= hours.start => last.end = last.end.max(hours.end),
            _ => shifts.push(hours),
        }
    }
    for _ in 0..cooks {
        let mut id = "another cook".to_owned();
        while problem.cooks.iter().any(|cook| cook.id == id) {
            id.insert_str(0, "yet ");
        }
        for who in problem.steps.iter_mut().flat_map(|step| &mut step.modes).filter_map(|mode| mode.who.as_mut()) {
            who.push(id.clone());
        }
        problem.cooks.push(Cook { id, shifts: shifts.clone() });
    }
}
