//! Temperatures that a text gives on both scales, the reader's own first.

/// `57 C (135 F)` as `135 F (57 C)`, and `57 to 5 C (135 to 41 F)` likewise.
pub(crate) fn fahrenheit_first(text: &str) -> String {
    let (mut said, mut rest) = (String::with_capacity(text.len()), text);
    while let Some(at) = rest.find(" C (") {
        let (before, after) = (&rest[..at], &rest[at + " C (".len()..]);
        let figures =
            |text: &str| !text.is_empty() && text.chars().all(|letter| letter.is_ascii_digit() || letter == '.');
        let known = |text: &str| match text.split_once(" to ") {
            Some((low, high)) => figures(low) && figures(high),
            None => figures(text),
        };
        let last = word_start(before);
        let first = before[..last].strip_suffix(" to ").map_or(last, word_start);
        let from = if known(&before[first..]) { first } else { last };
        let celsius = &before[from..];
        match after.split_once(" F)") {
            Some((fahrenheit, left)) if known(celsius) && known(fahrenheit) => {
                said += &format!("{}{fahrenheit} F ({celsius} C)", &before[..from]);
                rest = left;
            }
            _ => {
                said += &rest[..at + " C (".len()];
                rest = after;
            }
        }
    }
    said + rest
}

/// Where the last word of a text begins.
fn word_start(text: &str) -> usize {
    text.rfind([' ', '(']).map_or(0, |at| at + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_change_places() {
        assert_eq!(fahrenheit_first("keep it at 57 C (135 F) or hotter"), "keep it at 135 F (57 C) or hotter");
        assert_eq!(fahrenheit_first("from 57 to 5 C (135 to 41 F), shallow"), "from 135 to 41 F (57 to 5 C), shallow");
        assert_eq!(fahrenheit_first("75 C (167 F), or 70 C (158 F) for 2"), "167 F (75 C), or 158 F (70 C) for 2");
        assert_eq!(fahrenheit_first("(62.8 C (145 F))"), "(145 F (62.8 C))");
    }

    #[test]
    fn other_texts_stay() {
        for text in ["vitamin C (see there)", "180 C (fan)", " C (", "é C (1 F)", "from 5 to C (41 F)", ""] {
            assert_eq!(fahrenheit_first(text), text);
        }
    }
}
