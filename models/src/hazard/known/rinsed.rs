//! A raw bird under the tap is everywhere in the kitchen.

use super::*;
use crate::hazard::{Finding, Night};

const WASH: &[&str] = &["rinse", "wash"];
const BIRDS: &[&str] = &["chicken", "bird", "hen", "turkey", "duck", "goose", "poultry", "drumstick", "thigh", "wing"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "rinsed-raw",
    what: "a raw bird is washed, and its germs with it over sink and counter",
    topic: Topic::Undercooked,
    looks_at: "words for washing poultry",
    verdict: "caution",
    remedy: "do not wash it: dry it with paper, the heat does the rest",
    source: |_| memory("USDA FSIS and FSA: raw poultry is not washed"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let washed = night.spells.iter().filter(|own| {
        let words = crate::larder::tokens(&own.label.title);
        let bird = |word: &String| BIRDS.iter().any(|bird| word == bird || word.strip_suffix('s') == Some(*bird));
        // "Rinse the raw chicken", and no "wash your hands after the chicken".
        let near = words.iter().enumerate().any(|(at, word)| {
            let after = words.iter().skip(at + 1).filter(|next| !["the", "raw", "whole"].contains(&next.as_str()));
            WASH.contains(&word.as_str()) && after.take(1).any(bird)
        });
        near && own.facts.to_be_cooked
    });
    let text = |dish: &str| {
        format!(
            "{dish}: raw poultry is not washed, for that spreads its germs over sink and counter; dry it with paper"
        )
    };
    washed.map(|own| Finding::new(Weight::Caution, text(&own.dish.name), &[own])).collect()
}
