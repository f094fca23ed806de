//! Spirits burn.

use super::*;
use crate::hazard::{Finding, Night};

const SPIRITS: &[&str] = &["brandy", "rum", "cognac", "calvados", "whisky", "whiskey", "liqueur", "spirit", "flambe"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "spirits-by-the-flame",
    what: "spirits are poured or lit by an open flame",
    topic: Topic::HotFat,
    looks_at: "words for lighting spirits in a pan",
    verdict: "caution",
    remedy: "pour from a cup and never from the bottle, fan off, lid at hand",
    source: |_| practice("kitchen safety"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let lit = night.spells.iter().filter(|own| {
        own.text_says(&["flambe", "flambee", "flame", "set alight", "light the brandy"]) && own.says(SPIRITS)
    });
    let text = |dish: &str| {
        format!("{dish}: take the pan off the flame, pour from a cup and never from the bottle, hood off, lid at hand")
    };
    lit.map(|own| Finding::new(Weight::Caution, text(&own.dish.name), &[own])).collect()
}
