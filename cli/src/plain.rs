//! What of a name or a text from a file may reach a reader. Every medium takes it from here and adds its own marks.
//!
//! Control characters steer terminals and break lines of a format; the overrides and embeddings of the Unicode
//! bidirectional algorithm (UAX 9) let a text show another than it is. Isolates pass: we set them ourselves.

/// A space at which no line is broken: between a number and its unit.
pub(crate) const TIED: &str = "\u{a0}";

/// One line for people: a [`literal`] one, with the sign of degrees where a number of them is said.
pub(crate) fn line(text: &str) -> String {
    degrees(&literal(text))
}

/// `180 C` as people write it: `180 °C`, never broken over lines.
fn degrees(text: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let at = |index: usize| letters.get(index).copied().unwrap_or(' ');
    let mut said = String::with_capacity(text.len());
    for (index, &letter) in letters.iter().enumerate() {
        let space = letter == ' ' || TIED.contains(letter);
        let number = index > 0 && at(index - 1).is_ascii_digit();
        if space && number && matches!(at(index + 1), 'C' | 'F') && !at(index + 2).is_alphanumeric() {
            said += TIED;
            said.push('°');
        } else {
            said.push(letter);
        }
    }
    said
}

/// One line as it is written: control characters become spaces, and what turns the direction of writing is left out.
pub(crate) fn literal(text: &str) -> String {
    let shown = text.chars().filter(|&letter| !turns(letter));
    shown.map(|letter| if steers(letter) { ' ' } else { letter }).collect()
}

/// A name that is to be set apart in a sentence: a [`literal`] line without isolates of its own, which could end ours.
pub(crate) fn name(text: &str) -> String {
    literal(text).replace(['\u{2066}', '\u{2067}', '\u{2068}', '\u{2069}'], "")
}

/// Several lines.
pub(crate) fn lines(text: &str) -> String {
    text.split('\n').map(literal).collect::<Vec<_>>().join("\n")
}

/// Several lines in which we have set colours: these stay if they are wanted.
pub(crate) fn coloured(text: &str, wanted: bool) -> String {
    let mut parts = text.split("\x1b[");
    let mut safe = lines(parts.next().unwrap_or_default());
    for part in parts {
        let codes = part.find(|letter: char| !(letter.is_ascii_digit() || letter == ';')).unwrap_or(part.len());
        if part[codes..].starts_with('m') {
            if wanted {
                safe += &format!("\x1b[{}m", &part[..codes]);
            }
            safe += &lines(&part[codes + 1..]);
        } else {
            safe += &format!(" [{}", lines(part));
        }
    }
    safe
}

/// Control characters (C0, DEL, C1) and the two separators that end a line.
fn steers(letter: char) -> bool {
    letter.is_control() || matches!(letter, '\u{2028}' | '\u{2029}')
}

/// Embeddings and overrides, whatever ends them, and a byte order mark within a text.
pub(crate) fn turns(letter: char) -> bool {
    matches!(letter, '\u{202a}'..='\u{202e}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_steers_and_nothing_turns() {
        assert_eq!(line("a\x1b[2Jb\r\nc\u{9b}d\u{202e}e\u{2028}f"), "a [2Jb  c de f");
        assert_eq!(name("\u{2068}soup\u{2069}\u{2067}"), "soup");
        assert_eq!(lines("one\ttwo\nthree\u{7}"), "one two\nthree ");
    }

    #[test]
    fn degrees_have_their_sign() {
        assert_eq!(line("Turn to 180 C fan (355\u{a0}F), 2 Cups"), "Turn to 180\u{a0}°C fan (355\u{a0}°F), 2 Cups");
        assert_eq!(line("63 C"), "63\u{a0}°C");
        assert_eq!(literal("takes 180 C"), "takes 180 C");
    }

    #[test]
    fn colours_pass_only_where_they_are_wanted() {
        let text = "\x1b[1m\x1b[38;5;9merror\x1b[0m: \x1b]0;owned\x07\x1b[2J\n";
        assert_eq!(coloured(text, true), "\x1b[1m\x1b[38;5;9merror\x1b[0m:  ]0;owned  [2J\n");
        assert_eq!(coloured(text, false), "error:  ]0;owned  [2J\n");
    }
}
