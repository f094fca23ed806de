//! The independent checker: is this a plan of this problem, and what does it cost?
//!
//! It is written from the meaning of a plan alone and shares no code with any search. Each rule is a small file of its
//! own. That pans fit is believed only where an arrangement can be shown and stands up to being measured.

mod costs;
mod facts;
mod rules;
mod served;
mod violation;
mod words;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::plan::Plan;
use crate::problem::{Minute, Problem};

use facts::Facts;
pub use violation::{AirClash, BadHands, Goal, Illegal, Opening, Violation};

/// What a plan costs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cost {
    /// First goal: the sum over courses of weight times slip.
    pub lateness: i64,
    /// Second goal: what the waiting of food and the choice of modes cost.
    pub waiting: i64,
    /// Third goal: minutes for which cavities are kept hot.
    pub hot: i64,
    /// The minute each course is served, stated or the least possible.
    pub served: BTreeMap<String, Minute>,
}

impl Cost {
    /// The three goals in their order.
    pub fn goals(&self) -> [i64; 3] {
        [self.lateness, self.waiting, self.hot]
    }
}

/// Checks a plan against its problem and works out its cost.
///
/// What the plan states of itself is compared, too: its costs, its bounds and its status.
///
/// # Errors
/// Every rule the plan breaks. Of a scarcity each stretch of time is named once, with all who are in it. A plan that is
/// not complete, or whose problem is refused, is not looked at any further; costs are compared once all rules hold.
///
/// ```
/// use rangewright_models::check::{Violation, check};
/// # use rangewright_models::{plan::Plan, problem::Problem};
/// # let problem: Problem = serde_json::from_str(r#"{"name": "", "opening": 0, "shifts": [], "pools": {}, "places": [],
/// #     "dishes": [], "courses": [], "steps": [], "links": []}"#)?;
/// let plan: Plan = serde_json::from_str(r#"{"steps": {"stir": {"mode": 0, "start": 5, "end": 6}}, "lateness": 0,
///     "waiting": 0, "hot": 0, "bounds": [0, 0, 0], "status": "optimal"}"#)?;
/// let violations = check(&problem, &plan).unwrap_err();
/// assert_eq!(violations, [Violation::UnknownStep { step: "stir".to_owned() }]);
/// # Ok::<(), serde_json::Error>(())
/// ```
pub fn check(problem: &Problem, plan: &Plan) -> Result<Cost, Vec<Violation>> {
    let facts = Facts::new(problem, plan)?;
    let mut violations = Vec::new();
    rules::check(&facts, &mut violations);
    let cost = costs::cost(&facts);
    if violations.is_empty() {
        rules::stated::check(plan, &cost, &mut violations);
    }
    if violations.is_empty() { Ok(cost) } else { Err(violations) }
}

/// Whether a plan has the form of a plan of this problem: every step and course it names is there, has the mode it names,
/// and minutes that can be. It may lack steps (a plan of the rest of a day does) and break rules; [`check`] judges that.
///
/// # Errors
/// Everything that is not so. A plan that has none of the steps at all lacks the first one.
///
/// ```
/// use rangewright_models::{check::form, plan::Plan, problem::Problem};
/// # let problem: Problem = serde_json::from_str(r#"{"name": "", "opening": 0, "shifts": [], "pools": {}, "places": [],
/// #     "dishes": [], "courses": [], "steps": [], "links": []}"#)?;
/// let plan: Plan = serde_json::from_str(r#"{"steps": {"stir": {"mode": 0, "start": 5, "end": 6}}, "lateness": 0,
///     "waiting": 0, "hot": 0, "bounds": [0, 0, 0], "status": "optimal"}"#)?;
/// assert_eq!(form(&problem, &plan).unwrap_err()[0].to_string(), "the plan names \"stir\", and there is no such step");
/// # Ok::<(), serde_json::Error>(())
/// ```
pub fn form(problem: &Problem, plan: &Plan) -> Result<(), Vec<Violation>> {
    let Err(mut violations) = Facts::new(problem, plan) else { return Ok(()) };
    let lacks = |one: &Violation| matches!(one, Violation::MissingStep { .. });
    if plan.steps.is_empty() && violations.iter().all(lacks) {
        violations.truncate(1);
    } else {
        violations.retain(|one| !lacks(one));
    }
    if violations.is_empty() { Ok(()) } else { Err(violations) }
}

/// What a plan costs, whether or not it keeps the rules, and whatever it states. Minutes that ought not to be negative
/// count as none.
///
/// # Errors
/// What makes the plan incomplete, or its problem refused.
pub fn cost(problem: &Problem, plan: &Plan) -> Result<Cost, Vec<Violation>> {
    Facts::new(problem, plan).map(|facts| costs::cost(&facts))
}
