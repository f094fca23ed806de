//! Which minutes of serving add up to the proved lateness.

use crate::instance::{Instance, Time};

/// Vectors of servings whose weighted slips make exactly `lateness`, at most `most` of them; none if there are more.
///
/// They respect windows, greatest slips and the pauses between courses.
pub(super) fn servings(instance: &Instance<'_>, lateness: i64, most: usize) -> Option<Vec<Vec<Time>>> {
    let mut found = Vec::new();
    let mut served = vec![0; instance.courses.len()];
    let complete = choose(instance, 0, lateness, &mut served, &mut found, most);
    complete.then_some(found)
}

fn choose(
    instance: &Instance<'_>,
    course: usize,
    left: i64,
    served: &mut Vec<Time>,
    found: &mut Vec<Vec<Time>>,
    most: usize,
) -> bool {
    let Some(source) = instance.courses.get(course) else {
        if left == 0 && pauses_hold(instance, served) {
            found.push(served.clone());
        }
        return found.len() <= most;
    };
    let window = instance.windows.serve[course];
    let is_last_weighted = instance.courses[course + 1..].iter().all(|later| later.weight == 0);
    for minute in window.lo..=window.hi {
        let cost = source.weight * i64::from(minute - source.serve);
        if cost > left {
            break;
        }
        if is_last_weighted && source.weight > 0 && cost != left {
            continue;
        }
        served[course] = minute;
        if !choose(instance, course + 1, left - cost, served, found, most) {
            return false;
        }
    }
    true
}

fn pauses_hold(instance: &Instance<'_>, served: &[Time]) -> bool {
    instance.courses.iter().zip(served).all(|(course, &minute)| {
        course.after.is_none_or(|(earlier, min, max)| {
            let pause = minute - served[earlier];
            pause >= min && pause <= max
        })
    })
}
