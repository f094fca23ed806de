//! What a plan states of itself is true.

use crate::check::Cost;
use crate::check::violation::{Goal, Violation};
use crate::plan::{Plan, Status};

pub(in crate::check) fn check(plan: &Plan, cost: &Cost, violations: &mut Vec<Violation>) {
    let goals = [Goal::Lateness, Goal::Waiting, Goal::Hot];
    let stated = [plan.lateness, plan.waiting, plan.hot];
    for (((goal, stated), bound), value) in goals.into_iter().zip(stated).zip(plan.bounds).zip(cost.goals()) {
        if stated != value {
            violations.push(Violation::Stated { goal, stated, value });
        }
        if bound > value {
            violations.push(Violation::BoundAboveValue { goal, bound, value });
        } else if bound < value && plan.status == Status::Optimal {
            violations.push(Violation::NotProved { goal, bound, value });
        }
    }
}
