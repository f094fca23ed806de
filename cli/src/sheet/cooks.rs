//! One sheet for each cook, in order of time.

use rangewright::models::problem::Minute;

use super::Page;
use crate::evening::{Evening, Sort};

pub(super) fn write(evening: &Evening<'_>, page: &mut Page) {
    for sheet in &evening.sheets {
        for day in &sheet.days {
            page.heading(&format!("{}, {}", sheet.name, day.day));
            let mut quarter: Option<Minute> = None;
            for entry in &day.entries {
                let own = entry.at.div_euclid(15);
                if quarter.replace(own) != Some(own) {
                    page.gap();
                }
                let margin = entry.letter().map_or(entry.clock.clone(), |letter| format!("{} {letter}", entry.clock));
                page.entry(&margin, &entry.said());
                for line in &entry.more {
                    let mark = if line.sort == Sort::Care { "! " } else { "" };
                    page.more(&format!("{mark}{}", line.text));
                }
            }
        }
    }
}
