//! The cautions of a plan: those of its steps in the modes chosen, and the hazards that are found in it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::Caution;
use crate::hazard;
use crate::labels::Labels;
use crate::plan::Plan;
use crate::problem::Problem;

/// A caution, and the steps it applies to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlanCaution {
    /// The caution.
    #[serde(flatten)]
    pub caution: Caution,
    /// The ids of the steps, in the problem's order.
    pub steps: Vec<String>,
}

/// Every caution of a plan, limits that are broken first, then by topic. Equal ones are one, with all their steps.
pub fn of_plan(problem: &Problem, labels: &Labels, plan: &Plan) -> Vec<PlanCaution> {
    let mut found: BTreeMap<Caution, Vec<String>> = BTreeMap::new();
    for step in &problem.steps {
        let (Some(planned), Some(label)) = (plan.steps.get(&step.id), labels.steps.get(&step.id)) else { continue };
        let own = label.modes.get(planned.mode).map_or(&[][..], |words| &words.cautions);
        for caution in label.cautions.iter().chain(own) {
            found.entry(caution.clone()).or_default().push(step.id.clone());
        }
    }
    for (caution, steps) in hazard::of_plan(problem, labels, plan) {
        found.entry(caution).or_default().extend(steps);
    }
    let mut cautions: Vec<PlanCaution> =
        found.into_iter().map(|(caution, steps)| PlanCaution { caution, steps }).collect();
    cautions.sort_by_key(|own| (std::cmp::Reverse(own.caution.weight), own.caution.topic));
    cautions
}
