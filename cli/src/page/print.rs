//! Rules for paper: its size, and what stands at the edges of each page.

use crate::evening::{CookSheet, Evening};
use crate::paper::PaperSize;
use crate::plain;

/// An evening of one cook with no more jobs than this is printed in one go, without a new page for each part.
const SHORT: usize = 20;

/// Whether an evening is so short that it needs no page for each part.
pub(super) fn is_short(evening: &Evening<'_>) -> bool {
    evening.entries.len() <= SHORT && evening.sheets.len() <= 1
}

/// The name of the kind of page on which a cook's day is printed.
pub(super) fn page_of(sheet: &CookSheet, day: usize) -> String {
    format!("cook-{}-{}", sheet.cook + 1, day + 1)
}

/// Every page says which it is of how many, and what it belongs to; those of a cook say whose, and of which day.
pub(super) fn rules(evening: &Evening<'_>, size: PaperSize) -> String {
    let size = size.name();
    let corner = |corner: &str, text: &str| {
        format!("@{corner} {{ content: {}; font: 9pt system-ui, sans-serif; }}", quoted(text))
    };
    let day = evening.servings.first().map(|serving| format!(", {}", serving.day)).unwrap_or_default();
    let number =
        "@bottom-right { content: \"Page \" counter(page) \" of \" counter(pages); font: 9pt system-ui, sans-serif; }";
    let name = corner("bottom-left", &format!("{}{day}", evening.name));
    let mut rules = format!("@page {{ size: {size}; margin: 11mm 12mm; {number} {name} }}\n");
    rules += &format!("@page chart {{ size: {size} landscape; margin: 10mm 10mm 14mm; }}\n");
    for sheet in &evening.sheets {
        for (index, day) in sheet.days.iter().enumerate() {
            let page = page_of(sheet, index);
            let whose = corner("top-left", &format!("{}, {}", sheet.name, day.day));
            rules += &format!("@page {page} {{ {whose} }}\n");
            rules += &format!("@page wall-{page} {{ size: {size} landscape; {whose} }}\n");
        }
    }
    rules
}

/// A text within a style sheet: whatever is neither letter, digit nor plain mark is written by its number.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in plain::line(text).chars() {
        if letter.is_alphanumeric() || matches!(letter, ' ' | ',' | '.' | ':' | '-') {
            quoted.push(letter);
        } else {
            quoted += &format!("\\{:x} ", u32::from(letter));
        }
    }
    quoted + "\""
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn a_name_ends_no_style() {
        assert_eq!(quoted("Tom \"</style>\\"), "\"Tom \\22 \\3c \\2f style\\3e \\5c \"");
    }
}
