//! Who stands beside whom in a cavity.

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Place, Problem};

/// The steps of other dishes that are in the same cavity as a step for a while, by id in order. None for an unknown step or
/// one that is in no cavity.
///
/// ```
/// use rangewright::ask::beside;
/// # use rangewright::models::{compile::compile, examples, read};
/// # use rangewright::{Limits, Outcome, solve};
/// # let supper = examples::ALL[1];
/// # let feast = read::feast(supper.menu, supper.menu_name, |name| supper.kitchen_text(name))?;
/// # let problem = compile(&feast)?.problem;
/// # let Outcome::Planned(planned) = solve(&problem, &Limits::default())? else { panic!("there is a plan") };
/// // The celeriac has the oven to itself.
/// assert!(beside(&problem, &planned.plan, "baked-celeriac/roast").is_empty());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn beside(problem: &Problem, plan: &Plan, step: &str) -> Vec<String> {
    let when = |id: &str| {
        let own = problem.steps.iter().find(|own| own.id == id)?;
        let planned = plan.steps.get(id)?;
        let place = own.modes.get(planned.mode)?.place.as_deref()?;
        Some((own.dish.as_str(), place, planned.start, planned.end))
    };
    let Some((dish, place, start, end)) = when(step) else { return Vec::new() };
    let cavity = |own: &Place| matches!(own, Place::Cavity(cavity) if cavity.id == place);
    if !problem.places.iter().any(cavity) {
        return Vec::new();
    }
    let meets = |id: &str| {
        when(id).is_some_and(|(other, there, from, to)| other != dish && there == place && from < end && start < to)
    };
    plan.steps.keys().filter(|id| meets(id)).cloned().collect()
}
