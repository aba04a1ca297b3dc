//! Lines of a log, of bounded length, and the cells of each.
//!
//! A line is a row, also where a quote is left open: one torn row can't swallow the rest of the
//! log, and no row needs more memory than a line may have.

use std::io::{BufRead, Error, ErrorKind};
use std::ops::Range;

/// The most bytes of a line that are looked at.
const LONGEST_LINE: usize = 4096;

/// The most bytes of a line that are passed over to find its end (limit of ours): what has none by then,
/// such as a device, never will.
const LONGEST_PASSED: usize = 64 << 20;

/// What parts the cells of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Delimiter {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
    /// `|`
    Pipe,
    /// Any number of blanks.
    Blanks,
}

impl Delimiter {
    fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
            Self::Pipe => b'|',
            Self::Blanks => b' ',
        }
    }

    /// What parts the cells of at least half of these lines.
    pub(super) fn of(lines: &[(u64, Vec<u8>)]) -> Self {
        let parts = |delimiter: Self| {
            let mut cells = Vec::new();
            let with = lines.iter().filter(|(_, line)| {
                delimiter.split(line, &mut cells);
                cells.len() > 1
            });
            2 * with.count() >= lines.len()
        };
        let found =
            [Self::Tab, Self::Semicolon, Self::Pipe, Self::Comma].into_iter().find(|&d| parts(d));
        match found {
            // `0 300,5`: the blank parts the cells, and the comma is the decimal sign.
            Some(Self::Comma) if lines.last().is_some_and(|(_, line)| has_two_words(line)) => {
                Self::Blanks
            }
            Some(delimiter) => delimiter,
            None => Self::Blanks,
        }
    }

    /// The ranges of the cells of a line, without blanks and quotes around them; false where a
    /// quote is left open.
    pub(super) fn split(self, line: &[u8], cells: &mut Vec<Range<usize>>) -> bool {
        cells.clear();
        let byte = self.byte();
        let mut at = 0;
        loop {
            while line
                .get(at)
                .is_some_and(|&b| is_blank(b) && b != byte || self == Self::Blanks && is_blank(b))
            {
                at += 1;
            }
            if line.get(at) == Some(&b'"') {
                let Some(close) = line[at + 1..].iter().position(|&b| b == b'"') else {
                    return false;
                };
                cells.push(trimmed(line, at + 1..at + 1 + close));
                at += close + 2;
                while line.get(at).is_some_and(|&b| !self.parts_at(b)) {
                    at += 1;
                }
            } else {
                let start = at;
                while line.get(at).is_some_and(|&b| !self.parts_at(b)) {
                    at += 1;
                }
                if self == Self::Blanks && start == at {
                    return true;
                }
                cells.push(trimmed(line, start..at));
            }
            if at >= line.len() {
                return true;
            }
            at += 1;
        }
    }

    fn parts_at(self, byte: u8) -> bool {
        byte == self.byte() || self == Self::Blanks && byte == b'\t'
    }
}

/// `0 300,5` or `10:05 420,5`, but not `0, 300`.
fn has_two_words(line: &[u8]) -> bool {
    let text = String::from_utf8_lossy(line);
    let is_numeric = |word: &str| {
        word.starts_with(|c: char| c.is_ascii_digit())
            && word.ends_with(|c: char| c.is_ascii_digit())
    };
    let words: Vec<&str> = text.split_whitespace().collect();
    words.len() == 2 && words.iter().all(|word| is_numeric(word)) && !words[0].contains('-')
}

fn is_blank(byte: u8) -> bool {
    byte == b' ' || byte == b'\t'
}

fn trimmed(line: &[u8], range: Range<usize>) -> Range<usize> {
    let Range { mut start, mut end } = range;
    while start < end && is_blank(line[start]) {
        start += 1;
    }
    while end > start && is_blank(line[end - 1]) {
        end -= 1;
    }
    start..end
}

/// Reads line after line into one buffer.
pub(super) struct Lines<R> {
    reader: R,
    /// The number of the line last read, from 1.
    pub number: u64,
    /// Its bytes, without the line's end.
    pub line: Vec<u8>,
    /// Whether the line had more bytes than are looked at.
    is_cut: bool,
}

impl<R: BufRead> Lines<R> {
    pub fn new(reader: R) -> Self {
        Self { reader, number: 0, line: Vec::new(), is_cut: false }
    }

    /// The line as a row; one that was cut is an open quote, which nothing takes for readings.
    pub fn row(&self) -> &[u8] {
        if self.is_cut { b"\"" } else { &self.line }
    }

    /// Reads the next line that holds a row; false at the end.
    pub fn next_row(&mut self) -> Result<bool, Error> {
        loop {
            if !self.next_line()? {
                return Ok(false);
            }
            if !is_comment(&self.line) {
                return Ok(true);
            }
        }
    }

    fn next_line(&mut self) -> Result<bool, Error> {
        self.line.clear();
        self.is_cut = false;
        let mut has_begun = false;
        let mut passed = 0;
        loop {
            let buffer = match self.reader.fill_buf() {
                Ok(buffer) => buffer,
                Err(error) if error.kind() == ErrorKind::Interrupted => continue,
                Err(error) => return Err(error),
            };
            if buffer.is_empty() {
                break;
            }
            has_begun = true;
            let end = memchr(buffer);
            let taken = end.unwrap_or(buffer.len());
            let room = LONGEST_LINE.saturating_sub(self.line.len());
            self.is_cut |= taken > room;
            self.line.extend_from_slice(&buffer[..taken.min(room)]);
            let used = taken + usize::from(end.is_some());
            self.reader.consume(used);
            passed += used;
            if passed > LONGEST_PASSED {
                let (line, most) = (self.number + 1, LONGEST_PASSED >> 20);
                let why = format!("line {line} has no end within {most} MiB");
                return Err(Error::new(ErrorKind::InvalidData, why));
            }
            if end.is_some() {
                break;
            }
        }
        if !has_begun {
            return Ok(false);
        }
        self.number += 1;
        if self.line.last() == Some(&b'\r') {
            self.line.pop();
        }
        if self.number == 1 && self.line.starts_with("\u{feff}".as_bytes()) {
            self.line.drain(..3);
        }
        Ok(true)
    }
}

/// Where the line ends.
fn memchr(buffer: &[u8]) -> Option<usize> {
    buffer.iter().position(|&byte| byte == b'\n')
}

/// Whether a line is blank or begins with `#`, `//` or `;`.
fn is_comment(line: &[u8]) -> bool {
    let text = line.trim_ascii_start();
    text.is_empty() || text.starts_with(b"#") || text.starts_with(b"//") || text.starts_with(b";")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn split(delimiter: Delimiter, line: &str) -> Vec<&str> {
        let mut cells = Vec::new();
        assert!(delimiter.split(line.as_bytes(), &mut cells), "{line}");
        cells.into_iter().map(|range| &line[range]).collect()
    }

    #[test]
    fn cells_lose_blanks_and_quotes() {
        assert_eq!(split(Delimiter::Comma, " 1 , \"2,5\" ,,x"), ["1", "2,5", "", "x"]);
        assert_eq!(split(Delimiter::Tab, "a b\t c"), ["a b", "c"]);
        assert_eq!(split(Delimiter::Blanks, "  1 \t 2  "), ["1", "2"]);
        assert_eq!(split(Delimiter::Comma, "1,"), ["1", ""]);
        assert!(!Delimiter::Comma.split(b"1,\"2", &mut Vec::new()));
    }

    #[test]
    fn the_delimiter_is_what_parts_most_lines() {
        let of = |text: &str| {
            let lines: Vec<_> = text.lines().map(|line| (1, line.as_bytes().to_vec())).collect();
            Delimiter::of(&lines)
        };
        assert_eq!(of("Time (s),p [Pa]\n0,1"), Delimiter::Comma);
        assert_eq!(of("t;p\n0,5;1,5"), Delimiter::Semicolon);
        assert_eq!(of("0 300,5\n5 420,5"), Delimiter::Blanks);
        assert_eq!(of("0, 300\n5, 420"), Delimiter::Comma);
        assert_eq!(of("2026-11-25 10:05:00,300\n2026-11-25 10:06:00,300"), Delimiter::Comma);
        assert_eq!(of("0|1\n1|2"), Delimiter::Pipe);
    }

    #[test]
    fn a_line_is_cut_where_no_row_is_that_long() {
        let text = format!("1,2\r\n\n# x\n{}\n3,4", "9".repeat(3 * LONGEST_LINE));
        let mut lines = Lines::new(std::io::BufReader::with_capacity(7, text.as_bytes()));
        let mut seen = Vec::new();
        while lines.next_row().unwrap() {
            seen.push((lines.number, lines.line.len(), lines.is_cut));
        }
        assert_eq!(seen, [(1, 3, false), (4, LONGEST_LINE, true), (5, 3, false)]);
    }
}
