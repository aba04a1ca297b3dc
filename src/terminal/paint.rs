//! Lines of pieces as rows of characters: wrapped, coloured or marked, and harmless.

use std::ops::Range;

use colored::{ColoredString, Colorize};
use textwrap::{Options, WordSplitter};
use unicode_width::UnicodeWidthStr;

use crate::text::{Line, Role, inert};

/// The narrowest and the widest text that is laid out (columns); common practice: narrower is
/// unreadable, wider loses the eye.
const WIDTHS: Range<usize> = 40..201;

/// The width taken where the terminal does not tell (columns); common practice.
const WIDTH_UNKNOWN: usize = 80;

/// The word put before a line that warns, so that its meaning does not rest on colour alone.
pub const WARNING_MARK: &str = "CAUTION: ";

/// Beginnings that already say it.
const MARKED: [&str; 4] = ["caution", "danger", "stop", "warning"];

/// How wide the text is and whether it has colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Paper {
    width: Option<usize>,
    is_coloured: bool,
}

impl Paper {
    /// Of a fixed width (columns; held between 40 and 200, and 80 for 0).
    #[must_use]
    pub fn new(width: usize, is_coloured: bool) -> Self {
        Self { width: Some(width), is_coloured }
    }

    /// As wide as the terminal is at the moment of writing.
    #[must_use]
    pub fn of_terminal(is_coloured: bool) -> Self {
        Self { width: None, is_coloured }
    }

    /// The columns there are.
    #[must_use]
    pub fn width(&self) -> usize {
        let width = match self.width.unwrap_or_else(|| usize::from(screen_size().0)) {
            0 => WIDTH_UNKNOWN,
            width => width,
        };
        width.clamp(WIDTHS.start, WIDTHS.end - 1)
    }

    /// Whether roles are shown by colour.
    #[must_use]
    pub fn is_coloured(&self) -> bool {
        self.is_coloured
    }

    /// The rows of a line, joined by line breaks, without one at the end. A warning begins with
    /// [`WARNING_MARK`] unless it says so itself; a value is not torn from its unit.
    ///
    /// ```
    /// use dryhold::terminal::Paper;
    /// use dryhold::text::{Line, Role};
    /// let line = Line::plain("The pump is ").push(Role::Warning, "hot");
    /// assert_eq!(Paper::new(80, false).paint(&line), "CAUTION: The pump is hot");
    /// ```
    #[must_use]
    pub fn paint(&self, line: &Line) -> String {
        self.paint_after("", line)
    }

    /// The same with `lead` before the first row and as many blanks before the others.
    #[must_use]
    pub fn paint_after(&self, lead: &str, line: &Line) -> String {
        let runs = prepared(line);
        let text: String = runs.iter().map(|(_, text)| text.as_str()).collect();
        let room = self.width().saturating_sub(lead.width()).max(WIDTHS.start / 2);
        let options = Options::new(room).word_splitter(WordSplitter::NoHyphenation);
        let mut painted = String::new();
        let mut from = 0;
        for row in textwrap::wrap(&text, options) {
            // Each row is a part of the text: only blanks were dropped between two of them.
            let start = text[from..].find(row.as_ref()).map_or(from, |skipped| from + skipped);
            let part = start..start + row.len();
            from = part.end.min(text.len());
            if painted.is_empty() {
                painted.push_str(lead);
            } else {
                painted.push('\n');
                painted.push_str(&" ".repeat(lead.width()));
            }
            self.paint_part(&runs, &part, &mut painted);
        }
        painted
    }

    fn paint_part(&self, runs: &[(Role, String)], part: &Range<usize>, painted: &mut String) {
        let mut start = 0;
        for (role, text) in runs {
            let end = start + text.len();
            let overlap = part.start.max(start)..part.end.min(end);
            if !overlap.is_empty() {
                let shown = text.get(overlap.start - start..overlap.end - start).unwrap_or("");
                let shown = shown.replace(NO_BREAK, " ");
                if self.is_coloured {
                    painted.push_str(&coloured(*role, &shown));
                } else {
                    painted.push_str(&shown);
                }
            }
            start = end;
        }
    }
}

/// The columns and rows of the terminal; 0 where they are not known.
pub(super) fn screen_size() -> (u16, u16) {
    // `size` would start another program where there is no terminal; only Windows needs it.
    let size = if cfg!(windows) {
        crossterm::terminal::size()
    } else {
        crossterm::terminal::window_size().map(|window| (window.columns, window.rows))
    };
    size.unwrap_or_default()
}

const NO_BREAK: char = '\u{a0}';

/// The pieces made harmless, with a warning marked and the blanks inside values held together.
fn prepared(line: &Line) -> Vec<(Role, String)> {
    let mut runs = Vec::with_capacity(line.pieces.len() + 1);
    if line.pieces.iter().any(|piece| piece.role == Role::Warning) && !says_it_itself(line) {
        runs.push((Role::Warning, WARNING_MARK.to_owned()));
    }
    for piece in &line.pieces {
        let mut text = inert(&piece.text).replace('\t', " ");
        if piece.role == Role::Value {
            text = text.replace(' ', &NO_BREAK.to_string());
        }
        runs.push((piece.role, text));
    }
    runs
}

/// Whether a warning begins with a label of its own, also where it is to be read out.
pub(super) fn says_it_itself(line: &Line) -> bool {
    let text = line.to_text().trim_start().to_lowercase();
    let text = text.strip_prefix("say: ").unwrap_or(&text);
    MARKED.iter().any(|word| {
        text.strip_prefix(word).is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
    })
}

fn coloured(role: Role, text: &str) -> String {
    let styled: ColoredString = match role {
        Role::Plain => return text.to_owned(),
        Role::Strong => text.bold(),
        Role::Value => text.cyan().bold(),
        Role::Name => text.green(),
        Role::Warning => text.red().bold(),
        Role::Quiet => text.dimmed(),
    };
    // The decision was made from the facts; the library's own guess looks at the wrong stream.
    colored::control::set_override(true);
    styled.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(width: usize) -> Paper {
        Paper::new(width, false)
    }

    #[test]
    fn rows_fit_the_width_and_keep_every_word() {
        let text = "Close the isolation valve, wait ten minutes and read the gauge again where \
                    it is farthest from the pump";
        let painted = plain(40).paint(&Line::plain(text));
        assert!(painted.lines().count() > 2);
        assert!(painted.lines().all(|row| row.width() <= 40), "{painted}");
        assert_eq!(painted.split_whitespace().collect::<Vec<_>>().join(" "), text);
    }

    #[test]
    fn later_rows_hang_under_the_first() {
        let painted = plain(40).paint_after("  1. ", &Line::plain("one two three ".repeat(6)));
        let rows: Vec<&str> = painted.lines().collect();
        assert!(rows[0].starts_with("  1. one"), "{painted}");
        assert!(rows[1].starts_with("     ") && !rows[1].starts_with("      "), "{painted}");
    }

    #[test]
    fn a_value_is_not_torn_from_its_unit() {
        let line = Line::plain("The gauge at the far end now reads ")
            .push(Role::Value, "1200 micron")
            .push(Role::Plain, " again");
        let painted = plain(40).paint(&line);
        assert_eq!(painted, "The gauge at the far end now reads\n1200 micron again");
    }

    #[test]
    fn a_warning_is_marked_once_and_with_or_without_colour() {
        assert_eq!(plain(80).paint(&Line::warning("hot oil")), "CAUTION: hot oil");
        assert_eq!(plain(80).paint(&Line::warning("Stop: hot oil")), "Stop: hot oil");
        assert_eq!(plain(80).paint(&Line::warning("stopper hot")), "CAUTION: stopper hot");
        let bright = Paper::new(80, true).paint(&Line::warning("hot oil"));
        assert!(bright.contains("CAUTION: ") && bright.contains("\u{1b}["), "{bright:?}");
    }

    #[test]
    fn colour_ends_with_every_row() {
        let painted = Paper::new(40, true).paint(&Line::strong("word ".repeat(20)));
        assert!(painted.lines().count() > 1);
        for row in painted.lines() {
            assert!(row.starts_with("\u{1b}[1m") && row.ends_with("\u{1b}[0m"), "{row:?}");
        }
    }

    #[test]
    fn what_a_file_says_cannot_steer_the_terminal() {
        let line = Line::plain("a\u{1b}[2Jb\u{7}").push(Role::Value, "9\u{202e}1 mbar");
        assert_eq!(plain(80).paint(&line), "a<U+001B>[2Jb<U+0007>9<U+202E>1 mbar");
    }

    #[test]
    fn odd_lines_are_painted_without_fault() {
        assert_eq!(plain(80).paint(&Line::new()), "");
        assert_eq!(plain(80).paint_after("- ", &Line::plain("")), "- ");
        assert_eq!(plain(80).paint(&Line::plain("one\ntwo\tthree")), "one\ntwo three");
        let long = "x".repeat(95);
        assert_eq!(plain(40).paint(&Line::plain(long.as_str())).replace('\n', ""), long);
        let wide = plain(40).paint(&Line::plain("真空".repeat(30)));
        assert!(wide.lines().all(|row| row.width() <= 40), "{wide}");
    }

    #[test]
    fn the_width_stays_readable() {
        assert_eq!(plain(3).width(), 40);
        assert_eq!(plain(0).width(), 80);
        assert_eq!(plain(999).width(), 200);
        assert_eq!(plain(100).width(), 100);
    }
    proptest::proptest! {
        #[test]
        fn any_text_keeps_its_characters_and_fits(
            texts in proptest::collection::vec("(?s).{0,60}", 0..5),
            width in 40_usize..120,
        ) {
            let roles = [Role::Plain, Role::Value, Role::Name, Role::Quiet, Role::Strong];
            let line = roles.iter().zip(&texts).fold(Line::new(), |line, (role, text)| {
                line.push(*role, text.as_str())
            });
            let painted = plain(width).paint(&line);
            let dense = |text: &str| -> String {
                text.chars().filter(|c| !c.is_whitespace()).collect()
            };
            proptest::prop_assert_eq!(dense(&painted), dense(&inert(&line.to_text())));
            proptest::prop_assert!(painted.lines().all(|row| row.width() <= width));
        }
    }
}
