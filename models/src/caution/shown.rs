//! Which cautions are said at a step, and in which few words: a line is read where there are few of them.
//!
//! Everything is said once, in full and with its source, in a part of its own. At a step stand the gravest three, each topic
//! once for a dish, where it bites first, with the figure that the cook needs there.

use std::collections::{BTreeMap, BTreeSet};

use super::usual::both;
use super::{PlanCaution, Topic, Weight, usual};
use crate::hazard::{self, Rules};
use crate::labels::{Labels, StepLabel};
use crate::plan::Plan;

/// The most that are said at one step.
pub const AT_A_STEP: usize = 3;
/// On a cook's sheet no more than one job in so many has a line of caution; a limit that is broken is said always.
pub const JOBS_A_LINE: usize = 5;

/// A least centre below this is that of whole meat which may be pink: there is no one figure then, degrees C.
const PINK: f64 = 60.0;

/// What is said at a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AtStep {
    /// Its id.
    pub step: String,
    /// The gravest of what is said.
    pub weight: Weight,
    /// What to do, in few words: `cook it through: 74 C (165 F) in the middle`.
    pub text: String,
}

/// What is said at the steps of a plan, the gravest first. `cautions`: those of the plan, as [`of_plan`](super::of_plan) has them.
pub fn at_steps(labels: &Labels, plan: &Plan, cautions: &[PlanCaution]) -> Vec<AtStep> {
    let mut said: BTreeSet<(Topic, &str)> = BTreeSet::new();
    let mut lines: Vec<AtStep> = Vec::new();
    let mut many: BTreeMap<String, usize> = BTreeMap::new();
    for own in cautions {
        let broken = own.caution.weight == Weight::Breach;
        // Every cook knows that steam burns: it is said once, at the end.
        if own.caution.topic == Topic::Steam && !broken {
            continue;
        }
        let mut steps: Vec<(&String, &StepLabel)> =
            own.steps.iter().filter_map(|step| Some((step, labels.steps.get(step)?))).collect();
        steps.sort_by_key(|(step, _)| plan.steps.get(*step).map(|planned| planned.start));
        // Whether food is cooked through shows at the end: meat that is browned first is asked for where it is done.
        if own.caution.topic == Topic::Undercooked {
            steps.reverse();
        }
        for (step, label) in steps {
            if !said.insert((own.caution.topic, &label.dish)) {
                continue;
            }
            let text =
                if broken { format!("LIMIT BROKEN, {}", own.caution.topic.short()) } else { words(own, label, labels) };
            let so_far = many.entry(step.clone()).or_default();
            match lines.iter_mut().find(|line| line.step == *step) {
                Some(line) if *so_far < AT_A_STEP || broken => {
                    line.text += &format!("; {text}");
                    *so_far += 1;
                }
                Some(_) => {}
                None => {
                    lines.push(AtStep { step: step.clone(), weight: own.caution.weight, text });
                    *so_far += 1;
                }
            }
        }
    }
    lines
}

/// The short words of a topic, with the figure that holds for this food in this region where it is the usual caution.
fn words(own: &PlanCaution, label: &StepLabel, labels: &Labels) -> String {
    let (topic, region) = (own.caution.topic, labels.region);
    let short = topic.short();
    if own.caution != usual(topic, region) {
        return short.to_owned();
    }
    match topic {
        Topic::Undercooked => {
            let rules = Rules { region, premises: labels.premises };
            let contents = labels.dishes.get(&label.dish).map(|dish| &dish.contents);
            let least = contents.and_then(|contents| hazard::least(&label.facts, contents, &rules));
            least.filter(|least| least.core_c > PINK).map_or(format!("{short}: the thermometer decides"), |least| {
                let stand =
                    if least.stand_min > 0.0 { format!(" for {:.0} min", least.stand_min) } else { String::new() };
                format!("{short}: {} in the middle{stand}", both(least.core_c))
            })
        }
        Topic::Holding => format!("keep it at {} or hotter", both(region.hot_c().value)),
        Topic::Reheating => format!("{short}: {}", both(region.reheat_c().value)),
        Topic::SlowCooling => match region.cooling().last() {
            Some(stage) => {
                format!("{short}: {} within {:.0} min, shallow and uncovered", both(stage.to_c), stage.minutes)
            }
            None => short.to_owned(),
        },
        _ => short.to_owned(),
    }
}
