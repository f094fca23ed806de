//! When courses are served: vectors of serving minutes that agree with each other.

use super::random::Random;
use crate::instance::{Instance, Time};

/// Raises servings until the gaps between courses hold. False if one would have to be later than it may.
pub(super) fn settle(instance: &Instance<'_>, served: &mut [Time]) -> bool {
    for (minute, span) in served.iter_mut().zip(&instance.windows.serve) {
        *minute = (*minute).max(span.lo);
    }
    for _ in 0..=instance.courses.len() {
        let mut changed = false;
        for (course, source) in instance.courses.iter().enumerate() {
            let Some((earlier, min, max)) = source.after else { continue };
            if served[course] < served[earlier] + min {
                served[course] = served[earlier] + min;
                changed = true;
            }
            if served[earlier] < served[course].saturating_sub(max) {
                served[earlier] = served[course] - max;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    served.iter().zip(&instance.windows.serve).all(|(&minute, span)| minute <= span.hi)
}

pub(super) fn lateness(instance: &Instance<'_>, served: &[Time]) -> i64 {
    let slips = instance.courses.iter().zip(served);
    slips.map(|(course, &served)| course.weight * i64::from(served - course.serve)).sum()
}

/// Servings that all slip alike by `minutes`, as far as they may.
pub(super) fn slipped(instance: &Instance<'_>, minutes: Time) -> Option<Vec<Time>> {
    let mut served: Vec<Time> =
        instance.windows.serve.iter().map(|span| span.lo.saturating_add(minutes).min(span.hi)).collect();
    settle(instance, &mut served).then_some(served)
}

/// Which courses are pulled forward together, and how far to try next.
pub(super) struct Pulls {
    groups: Vec<(Vec<usize>, Time)>,
    next: usize,
}

impl Pulls {
    pub(super) fn new(instance: &Instance<'_>) -> Self {
        let courses = instance.courses.len();
        let mut groups: Vec<Vec<usize>> = vec![(0..courses).collect()];
        if courses > 1 && courses <= 4 {
            let subsets = (1..(1_usize << courses) - 1).rev();
            groups.extend(subsets.map(|subset| (0..courses).filter(|course| subset >> course & 1 == 1).collect()));
        } else if courses > 4 {
            groups.extend((1..courses).map(|first| (first..courses).collect()));
            groups.extend((0..courses).map(|course| vec![course]));
        }
        Pulls { groups: groups.into_iter().map(|group| (group, Time::MAX)).collect(), next: 0 }
    }

    /// The next group to try and earlier servings for it, if they are less late.
    pub(super) fn propose(&mut self, instance: &Instance<'_>, served: &[Time]) -> Option<(usize, Vec<Time>)> {
        for _ in 0..self.groups.len() {
            let number = self.next;
            self.next = (self.next + 1) % self.groups.len();
            let (group, step) = &mut self.groups[number];
            let room =
                group.iter().map(|&course| served[course] - instance.windows.serve[course].lo).max().unwrap_or(0);
            *step = (*step).min((room + 1) / 2).max(1);
            let mut earlier = served.to_vec();
            for &course in group.iter() {
                earlier[course] -= *step;
            }
            if settle(instance, &mut earlier) && lateness(instance, &earlier) < lateness(instance, served) {
                return Some((number, earlier));
            }
            *step = (*step / 2).max(1);
        }
        None
    }

    /// What came of the last proposal for a group.
    pub(super) fn learn(&mut self, group: usize, success: bool) {
        let step = &mut self.groups[group].1;
        if success {
            *step = step.saturating_mul(2);
            self.next = group;
        } else {
            *step = (*step / 2).max(1);
        }
    }
}

/// Other servings that are no later in sum: one course earlier, one later.
pub(super) fn trade(instance: &Instance<'_>, served: &[Time], random: &mut Random) -> Option<Vec<Time>> {
    let courses = instance.courses.len();
    let (first, second) = (random.below(courses), random.below(courses));
    let (a, b) = (instance.courses.get(first)?, instance.courses.get(second)?);
    if first == second {
        return None;
    }
    let step = 1 + random.below(4) as i64;
    let divisor = gcd(a.weight, b.weight).max(1);
    let mut traded = served.to_vec();
    traded[first] -= Time::try_from(step * b.weight / divisor).ok()?;
    traded[second] += Time::try_from(step * a.weight / divisor).ok()?;
    let fits = settle(instance, &mut traded);
    (fits && lateness(instance, &traded) <= lateness(instance, served) && traded != served).then_some(traded)
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
