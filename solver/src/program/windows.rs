//! Windows of steps in plans that wait no longer than the best one.

use crate::assignment::Choice;
use crate::instance::{Instance, Rate, Span, Time, Windows};

/// When each step may start and end, given servings, fixed choices, and the most that waiting may cost altogether.
/// None if some step has no minute left.
pub(super) fn within(
    instance: &Instance<'_>,
    fixed: &[Option<Choice>],
    serve: Vec<Span>,
    budget: Option<i64>,
) -> Option<Windows> {
    let mut windows = Windows { start: instance.windows.start.clone(), end: instance.windows.end.clone(), serve };
    for (step, choice) in fixed.iter().enumerate() {
        if let Some(choice) = choice {
            windows.start[step] = Span { lo: choice.start, hi: choice.start };
            windows.end[step] = Span { lo: choice.end, hi: choice.end };
        }
    }
    let edges = edges(instance, budget);
    // Longest paths settle after as many rounds as there are events at most; fewer only leave windows wider.
    for _ in 0..2 * instance.steps.len() + 2 {
        let mut changed = false;
        for &(from, to, min, max) in &edges {
            let (a, b) = (*span(&mut windows, from), *span(&mut windows, to));
            let later = Span { lo: b.lo.max(a.lo.saturating_add(min)), hi: b.hi.min(a.hi.saturating_add(max)) };
            let earlier = Span { lo: a.lo.max(b.lo.saturating_sub(max)), hi: a.hi.min(b.hi.saturating_sub(min)) };
            changed |= later != b || earlier != a;
            *span(&mut windows, to) = later;
            *span(&mut windows, from) = earlier;
            if later.lo > later.hi || earlier.lo > earlier.hi {
                return None;
            }
        }
        if !changed {
            break;
        }
    }
    Some(windows)
}

/// A start, an end, or a serving.
#[derive(Clone, Copy)]
enum Event {
    Start(usize),
    End(usize),
    Serve(usize),
}

fn span(windows: &mut Windows, event: Event) -> &mut Span {
    match event {
        Event::Start(step) => &mut windows.start[step],
        Event::End(step) => &mut windows.end[step],
        Event::Serve(course) => &mut windows.serve[course],
    }
}

/// `min <= to - from <= max`.
fn edges(instance: &Instance<'_>, budget: Option<i64>) -> Vec<(Event, Event, Time, Time)> {
    let afford = |rate: Rate| budget.map_or(Time::MAX, |budget| longest(rate, budget));
    let mut edges = Vec::new();
    for (index, step) in instance.steps.iter().enumerate() {
        let min = step.modes.iter().map(|mode| mode.min).min().unwrap_or(0);
        let max =
            step.modes.iter().map(|mode| mode.max.min(mode.min.saturating_add(afford(mode.wait)))).max().unwrap_or(0);
        edges.push((Event::Start(index), Event::End(index), min, max));
        if let Some((course, rate)) = step.sink {
            let together = instance.courses[course].together.min(afford(rate));
            edges.push((Event::End(index), Event::Serve(course), 0, together));
        }
    }
    for link in &instance.links {
        let max = link.max.min(link.min.saturating_add(afford(link.wait)));
        edges.push((Event::End(link.from), Event::Start(link.to), link.min, max));
    }
    for (index, course) in instance.courses.iter().enumerate() {
        if let Some((earlier, min, max)) = course.after {
            edges.push((Event::Serve(earlier), Event::Serve(index), min, max));
        }
    }
    edges
}

/// The most minutes of waiting that cost no more than the budget.
fn longest(rate: Rate, budget: i64) -> Time {
    let (mut lo, mut hi) = (0, Time::MAX / 4);
    if rate.cost(hi) <= budget {
        return Time::MAX;
    }
    while lo < hi {
        let middle = lo + (hi - lo + 1) / 2;
        if rate.cost(middle) <= budget {
            lo = middle;
        } else {
            hi = middle - 1;
        }
    }
    lo
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_longest_wait_within_a_budget() {
        let rate = Rate { rate: 1, soft: 10, rate_after: 4 };
        assert_eq!(longest(rate, 10), 10);
        assert_eq!(longest(rate, 13), 10);
        assert_eq!(longest(rate, 14), 11);
        assert_eq!(longest(Rate { rate: 0, soft: Time::MAX, rate_after: 0 }, 0), Time::MAX);
    }
}
