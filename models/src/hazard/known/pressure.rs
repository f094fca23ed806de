//! A pressure cooker is opened when it is no longer under pressure.

use super::*;
use crate::hazard::{Finding, Night};

pub(super) const HAZARD: Hazard = Hazard {
    code: "under-pressure",
    what: "food cooks under pressure",
    topic: Topic::Steam,
    looks_at: "words for pressure cookers",
    verdict: "caution",
    remedy: "fill it no more than two thirds, half for what foams; let the pressure fall before it is opened",
    source: |_| practice("filled by its maker's line, and opened without pressure"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = Vec::new();
    for dish in &night.problem.dishes {
        if let Some(own) = night.of_dish(&dish.id).find(|own| own.text_says(&["pressure cook", "pressure cooker"])) {
            let text = format!(
                "{}: fill the pressure cooker two thirds at most, half with beans and grain, and let the pressure fall before it is opened",
                own.dish.name
            );
            found.push(Finding::new(Weight::Caution, text, &[own]));
        }
    }
    found
}
