//! The page of all hazards.

use std::fmt::Write;

use super::{ALL, Rules};
use crate::cook::safety::Region;

/// Every hazard with what it looks at, its verdict, its remedy and its sources, as Markdown.
pub fn page() -> String {
    let mut text = "# What could hurt somebody\n\nWritten from the hazards themselves. Each is looked for in every plan and in every menu. None of this replaces a \
                    local food code; \"read\" means read or quoted in full on a page that was read, anything else says how it is known.\n"
        .to_owned();
    for hazard in ALL {
        // Writing to a string cannot fail.
        let _ = write!(
            text,
            "\n## {}\n\n{}.\n\n- Looks at: {}\n- Verdict: {}\n- Mends it: {}\n",
            hazard.code, hazard.what, hazard.looks_at, hazard.verdict, hazard.remedy
        );
        let mut said = Vec::new();
        for region in Region::ALL {
            let source = (hazard.source)(&Rules::from(*region));
            if !said.contains(&source) {
                let _ = writeln!(text, "- Source ({region:?}): {source}");
                said.push(source);
            }
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `RANGEWRIGHT_UPDATE=1 cargo test -p rangewright-models hazards_page` writes it.
    #[test]
    fn the_hazards_page_is_up_to_date() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/src/hazard/hazards.md");
        if std::env::var_os("RANGEWRIGHT_UPDATE").is_some() {
            std::fs::write(path, page()).expect("the page is written");
        }
        assert_eq!(std::fs::read_to_string(path).unwrap_or_default(), page());
    }
}
