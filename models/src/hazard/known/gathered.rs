//! What grows wild may be taken for something else.

use super::*;
use crate::hazard::{Finding, Night};

const WILD: &[&str] = &[
    "foraged",
    "gathered",
    "wild mushroom",
    "wild mushrooms",
    "wild garlic",
    "hedgerow",
    "elderberries",
    "elderberry",
];

pub(super) const HAZARD: Hazard = Hazard {
    code: "gathered-wild",
    what: "wild mushrooms or plants are eaten, which only somebody who knows them may gather",
    topic: Topic::Undercooked,
    looks_at: "words for gathering",
    verdict: "caution",
    remedy: "bought ones, or somebody who knows them for certain",
    source: |_| practice("what is not known for certain is not eaten; many poisons bear cooking"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let wild = night.problem.dishes.iter().filter_map(|dish| night.of_dish(&dish.id).find(|own| own.says(WILD)));
    let text = |dish: &str| {
        format!(
            "{dish} has what was gathered wild: only what somebody knows for certain, for cooking does not make it safe"
        )
    };
    wild.map(|own| Finding::new(Weight::Caution, text(&own.dish.name), &[own])).collect()
}
