//! The ovens in which a step may be done, one for each kind of heat, and the temperatures to try in each.

use crate::cook::air::convection;
use crate::kitchen::{ApplianceKind, CavitySort, CavitySpec, Kitchen};
use crate::menu::{Named, Way, slug};
use crate::oven::around;
use crate::problem::Heat;
use crate::units::Temperature;

/// The most ways that are made of one step.
const MOST_WAYS: usize = 12;

/// An oven with one kind of heat.
#[derive(Clone, Copy)]
pub(super) struct Chamber<'a> {
    name: &'a str,
    pub(super) heat: Heat,
    pub(super) spec: &'a CavitySpec,
}

impl Chamber<'_> {
    /// A way that is done here; the compiler leaves it out if something else of the step does not fit.
    pub(super) fn way(&self, base: &Way) -> Way {
        Way {
            places: vec![Named::from(self.name)],
            heats: vec![self.heat],
            one_of: true,
            origin: base.origin,
            ..Way::default()
        }
    }
}

/// The ovens that a way allows, as far as there is a model of their heat: those it names, or every oven; its kinds of heat,
/// or each oven's usual one.
pub(super) fn chambers<'a>(way: &Way, kitchen: &'a Kitchen) -> Vec<Chamber<'a>> {
    let mut chambers = Vec::new();
    for appliance in &kitchen.places {
        let ApplianceKind::Cavity(spec) = &appliance.kind else { continue };
        let named = way.places.iter().any(|named| slug(&named.name) == slug(&appliance.name));
        let usual = match way.heats.as_slice() {
            [] => spec.sort == CavitySort::Oven,
            heats => spec.heats.iter().any(|heat| heats.contains(heat)),
        };
        if !(if way.places.is_empty() { usual } else { named }) {
            continue;
        }
        let wanted = |heat: &Heat| way.heats.is_empty() || way.heats.contains(heat);
        let mut heats: Vec<Heat> =
            spec.heats.iter().copied().filter(wanted).filter(|&heat| convection(heat).is_some()).collect();
        if way.heats.is_empty() {
            heats.truncate(1);
        }
        chambers.extend(heats.into_iter().map(|heat| Chamber { name: &appliance.name, heat, spec }));
    }
    chambers
}

/// The temperatures to try in an oven: those a cook would dial between the two ends, the ends and `best` among them; fewer
/// where so many ovens would make too many ways, `best` and then the ends being the last to go.
pub(super) fn temperatures(
    window: [Temperature; 2],
    best: Option<Temperature>,
    chamber: &Chamber<'_>,
    ovens: usize,
) -> Vec<Temperature> {
    let range = chamber.spec.range.map(Temperature::of_celsius);
    let scale = window[0].scale();
    // What the oven cannot do is left out to the degree: its range is kept in whole ones.
    let low = if window[0].whole() < range[0].whole() { range[0].on(scale) } else { window[0] };
    let high = if window[1].whole() > range[1].whole() { range[1].on(scale) } else { window[1] };
    if low.celsius() > high.celsius() {
        return Vec::new();
    }
    let best = best.filter(|best| (low.celsius()..=high.celsius()).contains(&best.celsius()));
    let each = MOST_WAYS / ovens.clamp(1, MOST_WAYS / 2);
    let mut all = Vec::new();
    for every in 1..=MOST_WAYS {
        all = Temperature::between(low, high, i64::try_from(every).unwrap_or(1));
        if let Some(best) = best.filter(|best| !all.iter().any(|own| own.apart(*best) == 0.0)) {
            all.push(best.on(scale));
        }
        if all.len() <= each {
            break;
        }
    }
    let rank = |own: &Temperature| match own.celsius() {
        at if best.is_some_and(|best| best.celsius() == at) => 0,
        at if at == high.celsius() => 1,
        at if at == low.celsius() => 2,
        _ => 3,
    };
    all.sort_by_key(rank);
    all.truncate(each);
    all.sort_by(|one, other| one.celsius().total_cmp(&other.celsius()));
    all
}

/// The air that a dial stands for, as far as it is accepted: another dish in the oven is no reason to set a hotter one.
pub(super) fn window_about(dial: Temperature, accepts: [Temperature; 2]) -> [i64; 2] {
    let [least, most] = around(dial.whole());
    match accepts.map(Temperature::whole) {
        [low, high] if low < high => [least.max(low.min(dial.whole())), most.min(high.max(dial.whole()))],
        _ => [least, most],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{degree_range, degrees};

    #[test]
    fn temperatures_are_ten_apart_and_few() {
        let spec = CavitySpec {
            sort: CavitySort::Oven,
            inside: [440, 380, 320],
            racks: 2,
            clearance: 30,
            bears: 25_000,
            range: [50, 200],
            at_opening: 20,
            rise: 120,
            fall: 30,
            settle: 5,
            cool_off: 30,
            heats: vec![Heat::Fan],
        };
        let chamber = Chamber { name: "oven", heat: Heat::Fan, spec: &spec };
        let in_ovens = |ovens, window: &str, best: Option<&str>| {
            let best = best.map(|best| degrees(best).unwrap());
            let tried = temperatures(degree_range(window).unwrap(), best, &chamber, ovens);
            tried.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
        };
        let tried = |window, best| in_ovens(1, window, best);
        assert_eq!(tried("140 to 180 C", Some("150 C")), "140 C, 150 C, 160 C, 170 C, 180 C");
        assert_eq!(tried("145 to 180 C", Some("155 C")), "145 C, 150 C, 155 C, 160 C, 170 C, 180 C");
        assert_eq!(tried("160 to 240 C", None), "160 C, 170 C, 180 C, 190 C, 200 C", "no hotter than the oven gets");
        assert_eq!(tried("300 to 350 F", None), "300 F, 325 F, 350 F");
        assert_eq!(tried("300 F", Some("325 F")), "300 F");
        assert_eq!(tried("gas 2 to 4", None), "gas 2, gas 3, gas 4");
        assert_eq!(tried("210 to 240 C", Some("210 C")), "");
        assert_eq!(
            in_ovens(3, "80 to 190 C", Some("150 C")),
            "80 C, 120 C, 150 C, 190 C".replace("120 C, ", "100 C, ")
        );
        assert_eq!(in_ovens(12, "80 to 190 C", Some("150 C")), "150 C, 190 C");
    }
}
