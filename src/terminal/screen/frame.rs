//! Rows that are drawn anew in place: a question, what is typed behind it, and what stands below.

use std::fmt::Write as _;
use std::io::{self, Write};

use crossterm::style::{Color, Stylize};
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::terminal::paint::screen_size;
use crate::text::inert;

/// The columns taken where the terminal does not tell (common practice).
const USUAL_COLUMNS: usize = 80;

/// How a row looks; the same as `inquire` draws it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    /// A question with what is typed behind it.
    Asked,
    /// A question with its answer, whose part begins at this byte.
    Answered(usize),
    /// A row of a list.
    Entry,
    /// The row of a list that Enter picks.
    Marked,
    /// What stands below.
    Help,
}

/// What stands on the terminal now.
#[derive(Debug, Default)]
pub(super) struct Frame {
    is_coloured: bool,
    rows: Vec<String>,
    /// The row of the cursor, from 0.
    at: usize,
}

impl Frame {
    /// Nothing is drawn yet.
    pub(super) fn new(is_coloured: bool) -> Self {
        Self { is_coloured, ..Self::default() }
    }

    /// Draws rows in the place of those that stand there; the cursor goes behind so much of the
    /// first one. Only what differs is written.
    pub(super) fn draw(
        &mut self,
        out: &mut dyn Write,
        lines: &[(Look, String)],
        cursor: &str,
    ) -> io::Result<()> {
        let columns = columns();
        let rows: Vec<String> =
            lines.iter().flat_map(|(look, text)| self.painted(*look, text, columns)).collect();
        let before = broken(cursor, columns);
        let column = before.last().map_or(0, |row| row.width());
        let at = before.len().saturating_sub(1) + usize::from(column >= columns);
        let mut bytes = String::new();
        up(&mut bytes, self.at);
        let last = self.rows.len().max(rows.len()).saturating_sub(1);
        for place in 0..=last {
            match (self.rows.get(place), rows.get(place)) {
                (Some(old), Some(new)) if old == new => {}
                (_, Some(new)) => bytes.push_str(&format!("{new}\u{1b}[K")),
                _ => bytes.push_str("\u{1b}[2K"),
            }
            bytes.push_str(if place < last { "\r\n" } else { "\r" });
        }
        up(&mut bytes, last.saturating_sub(at));
        let column = if column >= columns { 0 } else { column };
        if column > 0 {
            let _ = write!(bytes, "\u{1b}[{column}C");
        }
        (self.rows, self.at) = (rows, at);
        out.write_all(bytes.as_bytes())?;
        out.flush()
    }

    /// Leaves these rows standing, and the cursor at the beginning of the next one.
    pub(super) fn leave(&mut self, out: &mut dyn Write, line: (Look, String)) -> io::Result<()> {
        self.draw(out, &[line], "")?;
        let below = "\r\n".repeat(self.rows.len().max(1));
        self.rows.clear();
        self.at = 0;
        out.write_all(below.as_bytes())?;
        out.flush()
    }

    /// Takes everything away; the cursor stands where the first row began.
    pub(super) fn clear(&mut self, out: &mut dyn Write) -> io::Result<()> {
        let mut bytes = String::new();
        up(&mut bytes, self.at);
        bytes.push_str("\r\u{1b}[J");
        self.rows.clear();
        self.at = 0;
        out.write_all(bytes.as_bytes())?;
        out.flush()
    }

    fn painted(&self, look: Look, text: &str, columns: usize) -> Vec<String> {
        let mark = match look {
            Look::Asked => "? ",
            Look::Answered(_) if self.is_coloured => "> ",
            Look::Answered(_) => "? ",
            Look::Entry | Look::Marked | Look::Help => "",
        };
        let rows = broken(&format!("{mark}{text}"), columns);
        if !self.is_coloured {
            return rows;
        }
        let mut left = match look {
            Look::Answered(from) => mark.len() + from,
            Look::Asked | Look::Entry => usize::MAX,
            Look::Marked | Look::Help => 0,
        };
        let has_mark = !mark.is_empty();
        let colour = |(place, row): (usize, String)| {
            let cut = left.min(row.len());
            left = left.saturating_sub(row.len());
            let (plain, rest) = row.split_at_checked(cut).unwrap_or((&row, ""));
            let rest =
                if rest.is_empty() { String::new() } else { rest.with(Color::Cyan).to_string() };
            match (place, plain.split_at_checked(1)) {
                (0, Some((mark, plain))) if has_mark => {
                    format!("{}{plain}{rest}", mark.with(Color::Green))
                }
                _ => format!("{plain}{rest}"),
            }
        };
        rows.into_iter().enumerate().map(colour).collect()
    }
}

/// The columns there are.
pub(super) fn columns() -> usize {
    match usize::from(screen_size().0) {
        0 => USUAL_COLUMNS,
        columns => columns,
    }
}

/// What is typed, as it can be shown in a row.
pub(super) fn shown(typed: &str) -> String {
    inert(typed).replace('\t', " ")
}

fn up(bytes: &mut String, rows: usize) {
    if rows > 0 {
        let _ = write!(bytes, "\u{1b}[{rows}A");
    }
    bytes.push('\r');
}

/// A text in rows of so many columns, broken anywhere, as a terminal breaks it.
fn broken(text: &str, columns: usize) -> Vec<String> {
    let mut rows = vec![String::new()];
    let mut width = 0;
    for character in text.chars() {
        let needed = character.width().unwrap_or(0);
        if character == '\n' || width + needed > columns {
            rows.push(String::new());
            width = 0;
        }
        if character != '\n' {
            width += needed;
            if let Some(row) = rows.last_mut() {
                row.push(character);
            }
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_broken_where_the_terminal_ends() {
        assert_eq!(broken("abcdef", 4), ["abcd", "ef"]);
        assert_eq!(broken("a\nbc", 4), ["a", "bc"]);
        assert_eq!(broken("", 4), [""]);
        assert_eq!(broken("油油油", 5), ["油油", "油"]);
    }

    #[test]
    fn only_rows_that_differ_are_written_again() {
        let mut frame = Frame::new(false);
        let mut out = Vec::new();
        let lines = |typed: &str| {
            vec![(Look::Asked, format!("Who? {typed} ")), (Look::Help, "[a name]".to_owned())]
        };
        frame.draw(&mut out, &lines(""), "? Who? ").unwrap();
        out.clear();
        frame.draw(&mut out, &lines("A"), "? Who? A").unwrap();
        let written = String::from_utf8(out).unwrap();
        assert_eq!(written, "\r? Who? A \u{1b}[K\r\n\r\u{1b}[1A\r\u{1b}[8C");
        let mut out = Vec::new();
        frame.leave(&mut out, (Look::Answered(5), "Who? A".to_owned())).unwrap();
        let written = String::from_utf8(out).unwrap();
        assert_eq!(written, "\r? Who? A\u{1b}[K\r\n\u{1b}[2K\r\u{1b}[1A\r\r\n");
    }
}
