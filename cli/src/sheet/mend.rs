//! Limits of food safety that a menu breaks, with the changes that mend them.

use rangewright::mend::{Mend, Way};

use super::page::{Look, Page};
use crate::words::{Words, minutes};

/// A plan is refused because limits are broken.
pub(crate) fn refused(words: &Words, mends: &[Mend], look: Look) -> String {
    let mut page = Page::new(look);
    page.title(&format!("{}: not planned, for a limit of food safety is broken", words.labels.name));
    page.gap();
    for line in lines(words, mends) {
        page.point(&line);
    }
    page.finish()
}

/// Each broken limit as a line, equal ones once, with what mends it.
pub(crate) fn lines(words: &Words, mends: &[Mend]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for own in mends {
        let dish = own.steps.first().map_or("", |step| words.dish_of(step));
        let ways: Vec<String> = own.ways.iter().map(|way| sentence(words, way)).collect();
        let help = match ways.len() {
            0 => String::new(),
            _ => format!(" Tried, and mends it: {}.", ways.join("; or ")),
        };
        let line = format!(
            "LIMIT BROKEN: {dish}: {} [{}].{help}",
            words.scaled(&own.caution.text),
            own.caution.source.cited()
        );
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines
}

fn sentence(words: &Words, way: &Way) -> String {
    match way {
        Way::Hotter { step, degrees } => {
            format!(
                "{} at {} (the thermometer decides the minutes)",
                words.title(step),
                words.labels.units.temperature(*degrees)
            )
        }
        Way::Later { step, minutes: by } => format!("{} {} later than the menu says", words.title(step), minutes(*by)),
        _ => String::new(),
    }
}
