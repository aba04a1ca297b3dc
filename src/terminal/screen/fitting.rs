//! Prompts on a narrow terminal: what would break in the middle of a word is said above.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use super::console::{MARK, ScreenConsole};
use super::widgets::Entry;
use crate::text::{Line, Role};

/// What the number of an entry takes of its row (columns).
const NUMBER: usize = 4;

impl ScreenConsole<'_> {
    /// What stands below a field; a row that is too long for the terminal is said before it.
    pub(super) fn help_that_fits(&mut self, help: &str) -> String {
        if help.width() + MARK <= self.paper.width() {
            return help.to_owned();
        }
        match help.rsplit_once("; ") {
            Some((hint, way_out)) => {
                self.say(&Line::new().push(Role::Quiet, format!("Type {hint}.")));
                way_out.to_owned()
            }
            None => String::new(),
        }
    }

    /// Rows that are too long for the terminal are said before the list, and cut short in it.
    pub(super) fn fit(&mut self, entries: &mut [Entry]) {
        let room = self.paper.width().saturating_sub(MARK + NUMBER);
        let is_long = |e: &Entry| e.is_numbered() && e.label.width() + e.hint.width() > room;
        if !entries.iter().any(is_long) {
            return;
        }
        let shown = entries.iter().filter(|entry| entry.is_numbered());
        for (place, entry) in shown.enumerate() {
            let hint =
                if entry.hint.is_empty() { String::new() } else { format!(" ({})", entry.hint) };
            let line = Line::plain(format!("{}{hint}", entry.label));
            self.say_after(&format!("  {}. ", place + 1), &line);
        }
        for entry in entries.iter_mut().filter(|entry| is_long(entry)) {
            entry.hint.clear();
            entry.label = cut_short(&entry.label, room);
        }
    }
}

/// An answer behind a message of such a width, broken between its words where a row of so many
/// columns ends.
pub(super) fn in_rows(answer: &str, message: usize, columns: usize) -> String {
    let mut rows = String::new();
    let mut width = message + MARK;
    for word in answer.split(' ') {
        let needed = word.width() + 1;
        if width + needed > columns && !rows.is_empty() {
            rows.push('\n');
            width = 0;
        } else if !rows.is_empty() {
            rows.push(' ');
        }
        rows.push_str(word);
        width += needed;
    }
    rows
}

/// The beginning of a label, at most so many columns wide.
fn cut_short(label: &str, room: usize) -> String {
    if label.width() <= room {
        return label.to_owned();
    }
    let mut short = String::new();
    for character in label.chars() {
        if short.width() + 3 + character.width().unwrap_or(0) > room {
            break;
        }
        short.push(character);
    }
    format!("{}...", short.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_is_broken_between_its_words() {
        assert_eq!(in_rows("0 min 400, 5 min 430", 6, 22), "0 min 400,\n5 min 430");
        assert_eq!(in_rows("0 min 400, 5 min 430", 6, 80), "0 min 400, 5 min 430");
        assert_eq!(in_rows("unbroken", 6, 8), "unbroken");
    }

    #[test]
    fn a_label_is_cut_to_its_room() {
        assert_eq!(cut_short("cloudy", 6), "cloudy");
        assert_eq!(cut_short("cloudy or milky", 9), "cloudy...");
        assert_eq!(cut_short("油 oil", 5), "油...");
    }
}
