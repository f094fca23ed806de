//! `rangewright kinds`.

use rangewright::models::blocks;
use rangewright::models::menu::Kind;

/// The kinds of steps and their defaults, a line each, with the other words for them.
pub(super) fn table() -> String {
    let head = ["kind", "where", "hands", "the food keeps"].map(str::to_owned);
    let rows: Vec<[String; 4]> = std::iter::once(head).chain(blocks::table()).collect();
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let widths = [width(0), width(1), width(2)];
    let mut text = String::new();
    for [kind, place, hands, keeps] in &rows {
        let [a, b, c] = widths;
        text += &format!("{kind:a$}  {place:b$}  {hands:c$}  {keeps}\n");
    }
    text += "\nStep(kind: \"smoke\", ...) is anything else, and has no defaults.\n\nOther words:\n";
    for kind in Kind::ALL {
        let words: Vec<&str> = Kind::SYNONYMS.iter().filter(|(_, own)| own == kind).map(|(word, _)| *word).collect();
        if !words.is_empty() {
            text += &format!("{:9} {}\n", kind.word(), words.join(", "));
        }
    }
    text
}
