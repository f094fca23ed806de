//! The ovens in which a step may be done, one for each kind of heat, and the temperatures to try in each.

use crate::cook::air::convection;
use crate::kitchen::{ApplianceKind, CavitySort, CavitySpec, Kitchen};
use crate::menu::{Named, Way, slug};
use crate::problem::Heat;

/// The most ways that are made of one step.
const MOST_WAYS: i64 = 12;

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

/// The temperatures to try in an oven: ten degrees apart, or further where so many ovens would make too many ways; always
/// with `centre` among them if it lies within.
pub(super) fn temperatures(window: [i64; 2], centre: i64, chamber: &Chamber<'_>, ovens: usize) -> Vec<i64> {
    let [low, high] = [window[0].max(chamber.spec.range[0]), window[1].min(chamber.spec.range[1])];
    if low > high {
        return Vec::new();
    }
    let ovens = i64::try_from(ovens).unwrap_or(MOST_WAYS).clamp(1, MOST_WAYS / 2);
    let each = MOST_WAYS / ovens;
    let apart = (1..).map(|tens| 10 * tens).find(|apart| (high - low) / apart < each).unwrap_or(10);
    // The first at or above `low` that is a whole number of steps from the centre.
    let first = low + (centre - low).rem_euclid(apart);
    (0..each).map(|step| first + step * apart).take_while(|&t| t <= high).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

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
        assert_eq!(temperatures([140, 180], 150, &chamber, 1), [140, 150, 160, 170, 180]);
        assert_eq!(temperatures([145, 180], 150, &chamber, 1), [150, 160, 170, 180]);
        assert_eq!(
            temperatures([160, 240], 160, &chamber, 1),
            [160, 170, 180, 190, 200],
            "no hotter than the oven gets"
        );
        assert_eq!(temperatures([167, 187], 177, &chamber, 1), [167, 177, 187]);
        assert!(temperatures([210, 240], 210, &chamber, 1).is_empty());
        let many = temperatures([80, 190], 150, &chamber, 3);
        assert!(many.len() <= 4 && many.contains(&150), "{many:?}");
    }
}
