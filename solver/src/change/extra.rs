//! Another appliance.

use rangewright_models::kitchen::{CavitySort, CavitySpec};
use rangewright_models::problem::{Heat, Mode, Place, Problem, Step, Wait};

/// Food is held hot above this, degrees C: FDA Food Code 3-501.16(A)(1) asks for 57 C (135 F) or more; some air above that.
const HOT: i64 = 63;
/// Inside of a usual warming drawer, mm (common practice, no source).
const DRAWER: [i64; 3] = [440, 420, 180];
/// What rests in a drawer may rest so much longer, minutes (common practice, no source).
const LONGER: i64 = 60;

/// A twin of a place; every mode there gets a twin, too.
pub(super) fn second(problem: &mut Problem, id: &str) {
    let Some(place) = problem.places.iter().find(|place| place.id() == id) else { return };
    let mut twin = place.clone();
    let name = unused(problem, &format!("second {id}"));
    match &mut twin {
        Place::Cavity(cavity) => cavity.id.clone_from(&name),
        Place::Hob(hob) => hob.id.clone_from(&name),
        Place::Top(top) => top.id.clone_from(&name),
    }
    problem.places.push(twin);
    for step in &mut problem.steps {
        let there = step.modes.iter().filter(|mode| mode.place.as_deref() == Some(id));
        let twins: Vec<Mode> = there.map(|mode| Mode { place: Some(name.clone()), ..mode.clone() }).collect();
        step.modes.extend(twins);
    }
}

/// A warming drawer. Whatever may be that warm can be done in it, and what rests out of an oven can rest in it: half of what
/// waiting costs on the counter, and for longer.
pub(super) fn drawer(problem: &mut Problem) {
    let name = unused(problem, "warming drawer");
    let drawer = CavitySpec::usual(CavitySort::Drawer, DRAWER).cavity(&name);
    let range = [HOT, drawer.t_max];
    let resting: Vec<Option<Mode>> = problem.steps.iter().map(|step| from_the_oven(problem, step)).collect();
    for (step, oven) in problem.steps.iter_mut().zip(resting) {
        let warm = |mode: &&Mode| mode.t.is_some_and(|[lo, hi]| lo <= range[1] && range[0] <= hi);
        let twin = step.modes.iter().find(warm).map(|mode| Mode {
            place: Some(name.clone()),
            t: mode.t.map(|[lo, hi]| [lo.max(range[0]), hi.min(range[1])]),
            heat: Some(Heat::Static),
            ..mode.clone()
        });
        let rest = oven.zip(step.modes.first()).map(|(oven, mode)| {
            let wait = mode.wait.unwrap_or(step.wait);
            let min = mode.min.max(2);
            Mode {
                place: Some(name.clone()),
                min,
                max: (mode.max + LONGER).max(min),
                load: 1,
                unload: 1,
                wait: Some(Wait { rate: wait.rate / 2, rate_after: wait.rate_after / 2, ..wait }),
                t: Some(range),
                heat: Some(Heat::Static),
                pan: oven.pan,
                weight: oven.weight,
                ..mode.clone()
            }
        });
        step.modes.extend(twin.or(rest));
    }
    problem.places.push(Place::Cavity(drawer));
}

/// The oven's mode out of which a step rests on the counter, with no hand on it.
fn from_the_oven(problem: &Problem, step: &Step) -> Option<Mode> {
    let idle = |mode: &Mode| mode.place.is_none() && mode.hands + mode.load + mode.unload == 0;
    if !matches!(step.kind.as_str(), "rest" | "hold") || !step.modes.iter().all(idle) {
        return None;
    }
    let before = problem.links.iter().filter(|link| link.to == step.id);
    let from = before.filter_map(|link| problem.steps.iter().find(|other| other.id == link.from));
    from.flat_map(|other| &other.modes).find(|mode| mode.pan.is_some()).cloned()
}

fn unused(problem: &Problem, name: &str) -> String {
    let mut name = name.to_owned();
    while problem.places.iter().any(|place| place.id() == name) {
        name.insert_str(0, "another ");
    }
    name
}
