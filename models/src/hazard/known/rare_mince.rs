//! What is minced, and birds, are not eaten pink.

use super::*;
use crate::hazard::{Finding, Night};
use crate::larder::Food;

const PINK: &[&str] = &["rare", "pink", "underdone", "blushing"];
const DENIED: &[&str] = &[
    "not rare",
    "never rare",
    "not pink",
    "no longer pink",
    "not still pink",
    "never pink",
    "no pink",
    "trace of pink",
    "pink is gone",
    "pink has gone",
    "pink pepper",
    "pink peppercorn",
    "pink fir",
    "pink grapefruit",
    "pink salt",
];

pub(super) const HAZARD: Hazard = Hazard {
    code: "pink-where-it-may-not-be",
    what: "minced meat, poultry or its liver is meant to be rare or pink",
    topic: Topic::Undercooked,
    looks_at: "words for rare and pink in what the menu says of minced meat and poultry",
    verdict: "caution",
    remedy: "cook it through",
    source: |_| memory("USDA FSIS and FSA: minced meat, burgers and poultry are cooked through, not pink"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let pink = night.of_dish(&dish.id).find(|own| {
            let through = own.contents().has(Food::Mince) || own.contents().has(Food::Poultry);
            through && own.says(PINK) && !own.says(DENIED)
        });
        if let Some(own) = pink {
            let text = format!(
                "{} is meant to be pink, and has what germs are inside of: cook it through, the thermometer decides",
                own.dish.name
            );
            found.push(Finding::new(Weight::Caution, text, &[own]));
        }
    }
    found
}
