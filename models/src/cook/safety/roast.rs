//! The cautions of a roast.

use super::caution::{Caution, Weight, assumed, both, both_ends, memory, practice, read};
use super::exposure::minutes_between;
use super::{Handling, Reduction, Region, credited_logs, low_oven, minimum, slow_surface};
use crate::cook::roast::Roast;
use crate::cook::safety::Topic;
use crate::cook::{Cut, Meat};
use crate::problem::Heat;

/// What holds for a roast at any oven temperature.
pub(in crate::cook) fn roast(roast: &Roast, region: Region) -> Vec<Caution> {
    let mut cautions = Vec::new();
    let least = minimum(roast.meat, roast.handling, roast.stuffed, region);
    if least.missed_by(roast.target_c) {
        let pink = roast.meat != Meat::Poultry && roast.handling == Handling::Whole && !roast.stuffed;
        let text = format!(
            "a centre of {} is below the least of {} for this food{}",
            both(roast.target_c),
            both(least.core_c),
            if pink { ": tell your guests, and not for the very young, the old, the pregnant or the ill" } else { "" }
        );
        cautions.push(Caution::new(
            Topic::Undercooked,
            // Whole beef may keep to its table of time and temperature instead: each oven temperature says whether it does.
            if pink && roast.meat == Meat::Beef { Weight::Caution } else { Weight::Breach },
            text,
            least.source,
        ));
    } else if roast.rest_min < least.stand_at(roast.target_c, region) {
        let text =
            format!("it must stand {:.0} min at {} or above: rest it longer", least.stand_min, both(least.core_c));
        cautions.push(Caution::new(Topic::Undercooked, Weight::Breach, text, least.source));
    }
    if roast.meat == Meat::Beef && roast.handling == Handling::Whole && roast.target_c < 57.0 {
        cautions.push(Caution::new(
            Topic::Undercooked,
            Weight::Caution,
            "at 54 C (129 F) a later study did not see the reduction that the beef table states: prefer 57 C (135 F) or more",
            read("McMinn et al. (2018), Meat and Muscle Biology 9048, abstract"),
        ));
    }
    if roast.handling != Handling::Whole {
        cautions.push(Caution::new(Topic::Undercooked,             Weight::Caution,
            "minced, injected or tenderised meat may carry germs inside: no pink centre, and no time and temperature table",
            assumed("held to the minced-meat row of the USDA FSIS chart"),
        ));
    }
    if roast.stuffed {
        cautions.push(Caution::new(Topic::Undercooked,             Weight::Caution,
            "the middle of the stuffing must reach 74 C (165 F); stuff just before roasting, and take it out after 20 minutes of rest; \
             cooked beside the roast is safer",
            read("USDA Turkey Basics: Stuffing (copy of the FSIS leaflet)"),
        ));
    }
    if roast.meat == Meat::Poultry {
        cautions.push(Caution::new(
            Topic::Undercooked,
            Weight::Caution,
            "poultry: probe the thickest of thigh and breast, away from bone; keep it from what is eaten raw",
            read("USDA FSIS Safe Minimum Internal Temperature Chart (April 2025)"),
        ));
    }
    if roast.cut == Cut::Bird && roast.weight_g.is_some_and(|g| g > 5_000.0) && roast.start_c > 8.0 {
        cautions.push(Caution::new(
            Topic::Thawing,
            Weight::Caution,
            "a large bird is not left out to warm",
            memory("USDA advice on thawing"),
        ));
    }
    cautions
}

/// The middle of a roast over time, `(minute, degrees C)` in order of time, as safety must take it.
pub(in crate::cook) struct Core {
    /// The late end of its range: what is lukewarm for long is judged by that.
    pub(in crate::cook) late: Vec<(f64, f64)>,
    /// What a probe proves: the early end of the range until the pull, then the lower of the readings at the pull and at the
    /// end of the rest. What is only computed to rise between is not credited.
    pub(in crate::cook) proved: Vec<(f64, f64)>,
}

impl Core {
    /// Degrees C that the claim rests on in the rest.
    fn held_c(&self) -> f64 {
        self.proved.last().map_or(0.0, |(_, core_c)| *core_c)
    }
}

/// What holds for a roast in one oven: its temperature, the slow outer layer, and how long the middle stays lukewarm.
pub(in crate::cook) fn way(
    roast: &Roast,
    heat: Heat,
    oven_c: f64,
    core: &Core,
    layer_minute: Option<f64>,
    region: Region,
) -> Vec<Caution> {
    if roast.meat == Meat::Vegetable && !roast.stuffed {
        return Vec::new();
    }
    let low = if roast.meat == Meat::Fish { None } else { low_oven(oven_c, heat, roast.weight_g) };
    let mut cautions: Vec<Caution> = low.into_iter().collect();
    if oven_c < super::CONSUMER_C || layer_minute.is_none_or(|m| m > super::SURFACE_MINUTES) {
        cautions.extend(slow_surface(layer_minute));
    }
    let inside = roast.stuffed || roast.handling != Handling::Whole || roast.meat == Meat::Poultry;
    let lukewarm = minutes_between(&core.late, region);
    if lukewarm > super::SURFACE_MINUTES {
        cautions.push(Caution::new(
            Topic::LowOven,
            if inside { Weight::Breach } else { Weight::Caution },
            format!(
                "the middle may spend {lukewarm:.0} min within {}, rest included, if it comes late",
                both_ends(region.cold_c().value, region.hot_c().value)
            ),
            assumed("engineering judgement, after the Food Code's four hours; regions have no rule for cooking itself"),
        ));
    }
    if let Some(caution) = beef(roast, core, region) {
        cautions.push(caution);
    }
    if oven_c >= 200.0 {
        cautions.push(Caution::new(
            Topic::HotFat,
            Weight::Advice,
            "hot fat and steam: open the door away from you, and use dry cloths",
            practice("kitchen safety"),
        ));
    }
    cautions
}

/// Whole beef below the least centre temperature, judged by its table of time and temperature.
fn beef(roast: &Roast, core: &Core, region: Region) -> Option<Caution> {
    let least = minimum(roast.meat, roast.handling, roast.stuffed, region);
    if roast.meat != Meat::Beef
        || roast.handling != Handling::Whole
        || roast.stuffed
        || !least.missed_by(roast.target_c)
    {
        return None;
    }
    let (logs, wanted) = (credited_logs(&core.proved, Reduction::Log65), Reduction::Log65.logs());
    let (weight, text) = if logs >= wanted {
        let text = format!(
            "it keeps to the table of time and temperature for whole beef instead ({wanted} reductions by ten), but only if a probe in the middle reads {} or more both at the pull and when the rest of {:.0} min ends: read it both times; if less, back into the oven",
            both(core.held_c()),
            roast.rest_min
        );
        (Weight::Caution, text)
    } else {
        let text = format!(
            "neither {} for {:.0} minutes nor the table for whole beef is met ({logs:.1} of {wanted} reductions by ten, rest included): rest it warm for longer, or roast it further",
            both(least.core_c),
            least.stand_min
        );
        (Weight::Breach, text)
    };
    Some(Caution::new(Topic::Undercooked, weight, text, read("USDA FSIS Appendix A (1999), whole beef")))
}
