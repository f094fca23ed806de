//! Lines of a given width.

use rangewright::models::caution::DEFERENCE;
use unicode_width::UnicodeWidthStr;

use crate::Terminal;
use crate::evening::Care;
use crate::plain::{self, TIED};

/// How a page looks.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Look {
    pub(crate) width: usize,
    pub(crate) colour: bool,
    pub(crate) unicode: bool,
    /// Column in which the text of an entry begins.
    pub(crate) margin: usize,
}

impl Look {
    /// As wide as asked for, else as the terminal, else 80; never under 40.
    pub(crate) fn new(terminal: Terminal, width: Option<u16>, ascii: bool, twelve: bool) -> Self {
        let width = width.map(usize::from).or(terminal.width).unwrap_or(80).clamp(40, 200);
        Look {
            width,
            colour: terminal.colour,
            unicode: terminal.unicode && !ascii,
            // A clock time and the letter of a dish.
            margin: if twelve { 12 } else { 9 },
        }
    }
}

/// A page that grows line by line.
pub(crate) struct Page {
    look: Look,
    text: String,
}

impl Page {
    pub(crate) fn new(look: Look) -> Self {
        Page { look, text: String::new() }
    }

    pub(crate) fn look(&self) -> Look {
        self.look
    }

    pub(crate) fn finish(self) -> String {
        self.text
    }

    /// A text as this page can show it: an old terminal has no sign for degrees.
    pub(crate) fn plain(&self, text: &str) -> String {
        if self.look.unicode { plain::line(text) } else { plain::literal(text) }
    }

    /// An empty line, unless there is one already.
    pub(crate) fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// A line over the whole page, in bold capitals.
    pub(crate) fn title(&mut self, text: &str) {
        self.gap();
        let text = self.plain(text).to_uppercase();
        for line in wrap(&text, self.look.width) {
            let line = self.bold(&line);
            self.raw(&line);
        }
    }

    /// A heading with a rule behind it.
    pub(crate) fn heading(&mut self, text: &str) {
        self.gap();
        let text = shorten(&self.plain(text).to_uppercase(), self.look.width - 8);
        let rule = self.look.width.saturating_sub(text.width() + 5);
        let glyph = if self.look.unicode { '━' } else { '=' };
        let (left, right) = (glyph.to_string().repeat(3), glyph.to_string().repeat(rule));
        let text = self.bold(&text);
        self.raw(&format!("{left} {text} {right}"));
    }

    /// A paragraph from the left edge.
    pub(crate) fn line(&mut self, text: &str) {
        for line in wrap(&self.plain(text), self.look.width) {
            self.raw(&line);
        }
    }

    /// A clock time or another short mark in the margin, and a text in bold beside it.
    pub(crate) fn entry(&mut self, margin: &str, text: &str) {
        // Literally: the F after a time is a letter of a dish.
        let margin = plain::literal(margin);
        for (index, line) in wrap(&self.plain(text), self.look.width - self.look.margin).into_iter().enumerate() {
            let line = self.bold(&line);
            if index == 0 {
                let pad = " ".repeat(self.look.margin.saturating_sub(margin.width() + 1));
                let margin = self.bold(&margin);
                self.raw(&format!(" {margin}{pad}{line}"));
            } else {
                self.raw(&format!("{}{line}", " ".repeat(self.look.margin)));
            }
        }
    }

    /// More about the entry above.
    pub(crate) fn more(&mut self, text: &str) {
        for line in wrap(&self.plain(text), self.look.width - self.look.margin) {
            self.raw(&format!("{}{line}", " ".repeat(self.look.margin)));
        }
    }

    /// A paragraph from a column on.
    pub(crate) fn more_at(&mut self, column: usize, text: &str) {
        for line in wrap(&self.plain(text), self.look.width.saturating_sub(column).max(1)) {
            self.raw(&format!("{}{line}", " ".repeat(column)));
        }
    }

    /// A point of a list.
    pub(crate) fn point(&mut self, text: &str) {
        for (index, line) in wrap(&self.plain(text), self.look.width - 2).into_iter().enumerate() {
            self.raw(&format!("{}{line}", if index == 0 { "- " } else { "  " }));
        }
    }

    /// What to take care of, with the words that always go with it; nothing if there is nothing.
    pub(crate) fn cares(&mut self, cares: &[Care]) {
        if !cares.is_empty() {
            self.take_care(cares);
        }
    }

    /// What a plan's sheets end with, whether there is anything to take care of or not.
    pub(crate) fn take_care(&mut self, cares: &[Care]) {
        self.heading("Take care");
        for care in cares {
            self.point(&format!("{}: {} [{}]", care.head(), care.caution.text, care.caution.source.cited()));
        }
        self.point(DEFERENCE);
    }

    /// Short texts in as many columns as fit, read from left to right.
    pub(crate) fn columns(&mut self, items: &[String]) {
        self.in_columns(items, 0);
    }

    /// As [`columns`](Page::columns), about the entry above.
    pub(crate) fn more_columns(&mut self, items: &[String]) {
        self.in_columns(items, self.look.margin);
    }

    fn in_columns(&mut self, items: &[String], indent: usize) {
        let room = self.look.width - indent;
        let items: Vec<String> = items.iter().map(|item| self.plain(item)).collect();
        let widest = items.iter().map(|item| item.width()).max().unwrap_or(0).min(room);
        let columns = ((room + 2) / (widest + 2)).max(1);
        for row in items.chunks(columns) {
            let mut line = String::new();
            for (index, item) in row.iter().enumerate() {
                line.push_str(&" ".repeat((index * (widest + 2)).saturating_sub(line.width())));
                line.push_str(item);
            }
            for line in wrap_tied(&line, room) {
                self.raw(&format!("{}{line}", " ".repeat(indent)));
            }
        }
    }

    /// A line as it is, for charts.
    pub(crate) fn raw(&mut self, line: &str) {
        self.text.push_str(&line.trim_end().replace(TIED, " "));
        self.text.push('\n');
    }

    fn bold(&self, text: &str) -> String {
        if self.look.colour { format!("\x1b[1m{text}\x1b[0m") } else { text.to_owned() }
    }
}

/// Cut to a width, with a mark where something is missing.
pub(crate) fn shorten(text: &str, width: usize) -> String {
    if text.width() <= width {
        return text.to_owned();
    }
    let mut short = String::new();
    for letter in text.chars() {
        let mut longer = short.clone();
        longer.push(letter);
        if longer.width() + 1 > width {
            break;
        }
        short = longer;
    }
    short + "."
}

/// A line that fits as it is; else its words over lines.
fn wrap_tied(line: &str, width: usize) -> Vec<String> {
    if line.width() <= width { vec![line.to_owned()] } else { wrap(line, width) }
}

/// Words over lines of a width; a word longer than a line is cut.
fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let mut word = word.to_owned();
        loop {
            let line = lines.last_mut().expect("there is always a line");
            let space = usize::from(!line.is_empty());
            if line.width() + space + word.width() <= width {
                line.push_str(&" ".repeat(space));
                line.push_str(&word);
                break;
            }
            if !line.is_empty() {
                lines.push(String::new());
                continue;
            }
            let head: String = take(&word, width);
            word = word[head.len()..].to_owned();
            line.push_str(&head);
            lines.push(String::new());
        }
    }
    lines
}

/// The first letters of a text, at least one, as far as a width reaches.
fn take(text: &str, width: usize) -> String {
    let mut head = String::new();
    for letter in text.chars() {
        head.push(letter);
        if head.width() > width && head.chars().count() > 1 {
            head.pop();
            break;
        }
    }
    head
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_words_and_wide_letters_keep_to_the_width() {
        for text in ["a bc def", "abcdefghijkl", "漢字漢字漢字", "ab 漢字漢字漢字漢字 c", ""] {
            for width in 2..6 {
                assert!(wrap(text, width).iter().all(|line| line.width() <= width), "{text} {width}");
                let letters = |text: &str| text.chars().filter(|letter| *letter != ' ').collect::<String>();
                assert_eq!(letters(&wrap(text, width).concat()), letters(text));
            }
        }
    }

    #[test]
    fn a_name_cannot_steer_the_terminal() {
        assert_eq!(plain::line("a\x1b[2Jb\nc"), "a [2Jb c");
    }
}
