//! When courses are served: as stated, or as soon as sinks, `serve` and `after` allow.

use std::collections::BTreeMap;

use crate::problem::{Minute, Problem};

use super::facts::Run;

/// The serving minute of each course. Those that are not stated are the least that hold, taken together; whether upper
/// limits hold as well is for the rules to say.
pub(super) fn minutes(
    problem: &Problem,
    steps: &BTreeMap<&str, usize>,
    runs: &[Run<'_>],
    stated: &BTreeMap<String, Minute>,
) -> Vec<Minute> {
    let index: BTreeMap<&str, usize> =
        problem.courses.iter().enumerate().map(|(i, course)| (course.id.as_str(), i)).collect();
    let earlier: Vec<Option<usize>> = problem
        .courses
        .iter()
        .map(|course| course.after.as_ref().and_then(|after| index.get(after.course.as_str()).copied()))
        .collect();
    let fixed: Vec<bool> = problem.courses.iter().map(|course| stated.contains_key(&course.id)).collect();
    let mut served: Vec<Minute> = problem
        .courses
        .iter()
        .map(|course| {
            let ends = course.sinks.iter().map(|sink| runs[steps[sink.step.as_str()]].end);
            stated.get(&course.id).copied().unwrap_or_else(|| ends.fold(course.serve, Minute::max))
        })
        .collect();

    // A course may have to wait so that a later one does not come too long after it, and then moves others in its turn.
    // Each course follows at most one, so once from the last to the first and once back is enough.
    let order = first_to_last(&earlier);
    for &course in order.iter().rev() {
        if let Some(before) = earlier[course].filter(|&before| !fixed[before])
            && let Some(max) = problem.courses[course].after.as_ref().and_then(|after| after.max)
        {
            served[before] = served[before].max(served[course] - max);
        }
    }
    for &course in &order {
        if let (Some(before), Some(after)) = (earlier[course], &problem.courses[course].after)
            && !fixed[course]
        {
            served[course] = served[course].max(served[before] + after.min);
        }
    }
    served
}

/// Courses in an order in which each comes after the one it follows. There are no circles.
fn first_to_last(earlier: &[Option<usize>]) -> Vec<usize> {
    let mut listed = vec![false; earlier.len()];
    let mut order = Vec::with_capacity(earlier.len());
    for mut course in 0..earlier.len() {
        let mut chain = Vec::new();
        while !listed[course] {
            listed[course] = true;
            chain.push(course);
            match earlier[course] {
                Some(before) => course = before,
                None => break,
            }
        }
        order.extend(chain.into_iter().rev());
    }
    order
}
