//! Integer programs: small feasts whole, a few dishes inside a plan, modes and places for fixed minutes.

pub(crate) mod milp;
mod scarce;
mod timing;
mod windows;

use timing::{Goal, Timing};

use crate::assignment::Choice;
use crate::board::Board;
use crate::instance::{Instance, Span, Time};
use crate::local::valid;
use milp::Answer;

/// Larger feasts are left to the other engines: measured, the tree of orders grows out of hand.
const MOST_DISHES: usize = 5;

/// Nodes of one program; what a node costs here is worth some units of work.
const NODES: u64 = 3000;

/// Proves lateness, then waiting, of a small feast by integer programs, within about so many units of work.
///
/// Scarcity is put in where an answer breaks it, so each program is a relaxation: its bound holds, and an answer that
/// breaks nothing is best. Says whether the feast is small enough for it.
pub(crate) fn prove(board: &mut Board<'_, '_, '_>, units: u64) -> bool {
    let instance = board.instance;
    if instance.dishes.iter().filter(|dish| !dish.is_empty()).count() > MOST_DISHES {
        return false;
    }
    let mut left = units;
    for goal in 0..2 {
        if board.proved(goal) {
            continue;
        }
        if goal > 0 && !board.proved(goal - 1) {
            break;
        }
        let best = board.incumbent().map(|(cost, _)| *cost);
        let what = if goal == 0 { Goal::Lateness } else { Goal::Waiting { lateness: best.map_or(0, |cost| cost[0]) } };
        let serves = servings(instance, best.map(|cost| cost[0]));
        let fixed = vec![None; instance.steps.len()];
        let Some(windows) = windows::within(instance, &fixed, serves, best.filter(|_| goal > 0).map(|cost| cost[1]))
        else {
            break;
        };
        let mut timing = Timing::new(instance, &windows, &fixed, what);
        if let Some(cost) = best {
            timing.milp.cut_off(cost[goal] - timing.constant);
        }
        close_in(board, &mut timing, goal, &mut left);
    }
    true
}

/// Solves, adds what the answer breaks, and solves again.
fn close_in(board: &mut Board<'_, '_, '_>, timing: &mut Timing<'_>, goal: usize, left: &mut u64) {
    let instance = board.instance;
    while !board.proved(goal) && *left > 0 {
        let answer = timing.milp.solve(NODES.min(*left));
        let cost = 20 + answer.nodes();
        *left = left.saturating_sub(cost);
        if let Some(bound) = answer.bound(timing.constant) {
            // Programs look only at plans no worse than the best; more than that they cannot prove.
            let best = board.incumbent().map_or(i64::MAX, |(cost, _)| cost[goal]);
            board.raise(goal, bound.min(best));
        }
        let going_on = board.spend(cost);
        let Answer::Found { values, .. } = answer else { return };
        let assignment = timing.read(&values);
        let conflicts = scarce::conflicts(instance, timing, &assignment);
        if conflicts.is_empty() {
            if valid(instance, &assignment) {
                board.offer(assignment);
            }
            return;
        }
        if !conflicts.iter().all(|conflict| timing.forbid(conflict)) || !going_on {
            return;
        }
    }
}

/// Plans pairs of dishes inside the best plan anew, all else as it is; then modes and places for the minutes as they are.
///
/// Each is a program of its own that asks for less waiting than the plan has. Says whether one was found.
pub(crate) fn rework(board: &mut Board<'_, '_, '_>, units: u64) -> bool {
    let instance = board.instance;
    let dishes: Vec<usize> = (0..instance.dishes.len()).filter(|&dish| !instance.dishes[dish].is_empty()).collect();
    let mut left = units;
    let mut better = false;
    for (index, &first) in dishes.iter().enumerate() {
        for &second in &dishes[..=index] {
            if left == 0 {
                return better;
            }
            better |= replan(board, &[first, second], &mut left);
        }
    }
    better | reassign(board, &mut left)
}

/// The best plan with these dishes planned anew.
fn replan(board: &mut Board<'_, '_, '_>, dishes: &[usize], left: &mut u64) -> bool {
    let Some((_, plan)) = board.incumbent() else { return false };
    let free = |step: usize| dishes.contains(&board.instance.steps[step].dish);
    let fixed = plan.steps.iter().enumerate().map(|(step, &choice)| (!free(step)).then_some(choice)).collect();
    improve(board, fixed, None, left)
}

/// The best plan with other modes and places for the same minutes.
fn reassign(board: &mut Board<'_, '_, '_>, left: &mut u64) -> bool {
    let Some((_, plan)) = board.incumbent() else { return false };
    let minutes = plan.steps.clone();
    improve(board, vec![None; minutes.len()], Some(&minutes), left)
}

fn improve(
    board: &mut Board<'_, '_, '_>,
    fixed: Vec<Option<Choice>>,
    minutes: Option<&[Choice]>,
    left: &mut u64,
) -> bool {
    let instance = board.instance;
    let Some((&cost, plan)) = board.incumbent() else { return false };
    let serves = plan.served.iter().map(|&minute| Span { lo: minute, hi: minute }).collect();
    let Some(mut windows) = windows::within(instance, &fixed, serves, Some(cost[1])) else { return false };
    for (step, choice) in minutes.into_iter().flatten().enumerate() {
        windows.start[step] = Span { lo: choice.start, hi: choice.start };
        windows.end[step] = Span { lo: choice.end, hi: choice.end };
    }
    let mut timing = Timing::new(instance, &windows, &fixed, Goal::Waiting { lateness: cost[0] });
    timing.milp.cut_off(cost[1] - 1 - timing.constant);
    while *left > 0 {
        let answer = timing.milp.solve(NODES.min(*left) / 8 + 1);
        let spent = 5 + answer.nodes();
        *left = left.saturating_sub(spent);
        let going_on = board.spend(spent);
        let Answer::Found { values, .. } = answer else { return false };
        let assignment = timing.read(&values);
        let conflicts = scarce::conflicts(instance, &timing, &assignment);
        if conflicts.is_empty() {
            return valid(instance, &assignment) && board.offer(assignment);
        }
        if !conflicts.iter().all(|conflict| timing.forbid(conflict)) || !going_on {
            *left = if going_on { *left } else { 0 };
            return false;
        }
    }
    false
}

/// When courses may be served in a plan no later than the best one.
fn servings(instance: &Instance<'_>, lateness: Option<i64>) -> Vec<Span> {
    let courses = instance.courses.iter().zip(&instance.windows.serve);
    courses
        .map(|(course, span)| {
            let slip = lateness.filter(|_| course.weight > 0).map(|lateness| lateness / course.weight);
            let slip = slip.and_then(|slip| Time::try_from(slip).ok()).unwrap_or(Time::MAX);
            Span { lo: span.lo, hi: span.hi.min(course.serve.saturating_add(slip)).max(span.lo) }
        })
        .collect()
}

#[cfg(test)]
mod tests;
