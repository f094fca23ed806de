//! Whole numbers out of a text, with the line each stands on.

/// Why a file is not the instance it claims to be.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {what}")]
pub struct ReadError {
    /// The line, counted from 1; the last one where the file ends too soon.
    pub line: usize,
    /// What is wrong there.
    pub what: String,
}

impl ReadError {
    pub(super) fn new(line: usize, what: impl Into<String>) -> Self {
        ReadError { line, what: what.into() }
    }
}

/// No number of a published instance comes near this; sums of accepted ones cannot overflow.
const ABSURD: i64 = 1_000_000;

/// The numbers of a text in order.
pub(super) struct Numbers<'a> {
    words: std::vec::IntoIter<(usize, &'a str)>,
    last_line: usize,
}

impl<'a> Numbers<'a> {
    /// Takes lines with their numbers, counted from 1.
    pub(super) fn of_lines(lines: impl IntoIterator<Item = (usize, &'a str)>) -> Self {
        let words: Vec<_> =
            lines.into_iter().flat_map(|(line, text)| text.split_whitespace().map(move |word| (line, word))).collect();
        Numbers { last_line: words.last().map_or(1, |(line, _)| *line), words: words.into_iter() }
    }

    /// The next number, which the reader calls `what`.
    pub(super) fn next(&mut self, what: &str) -> Result<i64, ReadError> {
        let Some((line, word)) = self.words.next() else {
            return Err(ReadError::new(self.last_line, format!("the file ends where {what} should stand")));
        };
        self.last_line = line;
        let number = word.parse::<i64>().ok().filter(|n| (-ABSURD..=ABSURD).contains(n));
        number.ok_or_else(|| {
            // A file of another kind may have words without end.
            let word: String = word.chars().take(20).collect();
            ReadError::new(
                line,
                format!("{word:?} where {what} should stand: a whole number of at most {ABSURD} is wanted"),
            )
        })
    }

    /// The next number, which must lie in `low..=high`.
    pub(super) fn next_in(&mut self, what: &str, low: i64, high: i64) -> Result<i64, ReadError> {
        let number = self.next(what)?;
        if (low..=high).contains(&number) {
            return Ok(number);
        }
        Err(ReadError::new(self.last_line, format!("{what} is {number}, not in {low} to {high}")))
    }

    /// The next number as an index or a count below or at `high`.
    pub(super) fn next_count(&mut self, what: &str, low: usize, high: usize) -> Result<usize, ReadError> {
        let number = self.next(what)?;
        let count = usize::try_from(number).ok().filter(|n| (low..=high).contains(n));
        count.ok_or_else(|| ReadError::new(self.last_line, format!("{what} is {number}, not in {low} to {high}")))
    }

    /// Whether anything is left.
    pub(super) fn is_open(&self) -> bool {
        self.words.len() > 0
    }

    /// The line of the number read last.
    pub(super) fn line(&self) -> usize {
        self.last_line
    }

    /// That nothing is left.
    pub(super) fn end(mut self) -> Result<(), ReadError> {
        match self.words.next() {
            None => Ok(()),
            Some((line, word)) => Err(ReadError::new(line, format!("`{word}` after the last number announced"))),
        }
    }
}

/// The lines of a text with their numbers, counted from 1.
pub(super) fn numbered(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.lines().enumerate().map(|(index, line)| (index + 1, line))
}
