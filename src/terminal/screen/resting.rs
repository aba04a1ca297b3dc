//! A list in which nothing is typed yet: it is walked and left here, where Ctrl-D and Esc are two keys.

use std::io::{self, Write};

use super::field::{PASTES_AS_KEYS, PASTES_WHOLE};
use super::frame::{Frame, Look};
use super::keys::{Held, Key};
use super::widgets::{Left, PickList, Picked, score};
use crate::text::inert;

/// How a list at rest was left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Rested {
    /// As a list may be left.
    Left(Left<Picked>),
    /// By typing this; the list is to be filtered.
    Typed(String),
}

/// A list as it is drawn.
#[derive(Debug)]
pub(super) struct Resting<'l> {
    /// What is picked from.
    pub list: &'l PickList,
    /// The labels and the rows of its entries.
    pub rows: &'l [(String, String)],
    /// How many entries are shown at once.
    pub page: usize,
    /// What stands below.
    pub help: &'l str,
    /// Whether it has colour.
    pub is_coloured: bool,
}

impl Resting<'_> {
    /// Lets the list be walked until an entry is picked, something is typed or it is left.
    pub(super) fn walk(&self, keys: &mut Held<'_>, out: &mut dyn Write) -> io::Result<Rested> {
        out.write_all(PASTES_WHOLE)?;
        let rested = self.walked(keys, out);
        out.write_all(PASTES_AS_KEYS)?;
        out.flush()?;
        rested
    }

    fn walked(&self, keys: &mut Held<'_>, out: &mut dyn Write) -> io::Result<Rested> {
        let message = inert(&self.list.message);
        let order = self.order();
        let ready = self.list.preset.and_then(|own| order.iter().position(|place| *place == own));
        let mut at = ready.unwrap_or(0);
        let mut frame = Frame::new(self.is_coloured);
        loop {
            let mut lines = vec![(Look::Asked, format!("{message}  "))];
            lines.extend(self.page_of(&order, at));
            lines.push((Look::Help, format!("[{}]", self.help)));
            frame.draw(out, &lines, &format!("? {message} "))?;
            let last = order.len().saturating_sub(1);
            let left = match keys.next(None)? {
                Some(Key::Up) => {
                    at = at.checked_sub(1).unwrap_or(last);
                    continue;
                }
                Some(Key::Down) => {
                    at = if at < last { at + 1 } else { 0 };
                    continue;
                }
                Some(Key::PageUp) => {
                    at = at.saturating_sub(self.page);
                    continue;
                }
                Some(Key::PageDown) => {
                    at = (at + self.page).min(last);
                    continue;
                }
                Some(Key::First) => {
                    at = 0;
                    continue;
                }
                Some(Key::Last) => {
                    at = last;
                    continue;
                }
                Some(Key::Character(character)) => {
                    frame.clear(out)?;
                    return Ok(Rested::Typed(format!("{character}{}", keys.pasted())));
                }
                Some(Key::Enter) => {
                    let Some(&place) = order.get(at) else { continue };
                    let label = self.rows.get(place).map(|row| row.0.as_str()).unwrap_or_default();
                    let answered = Look::Answered(message.len() + 1);
                    frame.leave(out, (answered, format!("{message} {label}")))?;
                    let picked = Picked { place, filter: String::new() };
                    return Ok(Rested::Left(Left::Answered(picked)));
                }
                Some(Key::Escape) => Left::Escaped(String::new()),
                Some(Key::Interrupt) => Left::Interrupted,
                Some(Key::End) => Left::Ended,
                _ => continue,
            };
            frame.leave(out, (Look::Asked, message))?;
            return Ok(Rested::Left(left));
        }
    }

    /// The places of the entries that are shown while nothing is typed, the first one first.
    fn order(&self) -> Vec<usize> {
        let scored = self.list.entries.iter().enumerate();
        let mut scored: Vec<(i64, usize)> =
            scored.filter_map(|(place, entry)| Some((score("", entry, place)?, place))).collect();
        scored.sort_by_key(|(score, _)| std::cmp::Reverse(*score));
        scored.into_iter().map(|(_, place)| place).collect()
    }

    /// The rows around the marked one; `^` and `v` where there are more.
    fn page_of(&self, order: &[usize], at: usize) -> Vec<(Look, String)> {
        let shown = self.page.min(order.len());
        let start = at.saturating_sub(shown / 2).min(order.len() - shown);
        let end = start + shown;
        let row = |index: usize| {
            let place = order.get(index).copied().unwrap_or_default();
            let row = self.rows.get(place).map(|row| row.1.as_str()).unwrap_or_default();
            let (look, mark) = match index {
                _ if index == at => (Look::Marked, ">"),
                _ if index == start && start > 0 => (Look::Entry, "^"),
                _ if index + 1 == end && end < order.len() => (Look::Entry, "v"),
                _ => (Look::Entry, " "),
            };
            (look, format!("{mark} {row}"))
        };
        (start..end).map(row).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::terminal::screen::widgets::{Entry, Presence};

    fn list(preset: Option<usize>) -> PickList {
        let entry = |label: &str, presence| Entry {
            label: label.to_owned(),
            hint: String::new(),
            id: String::new(),
            words: Vec::new(),
            presence,
        };
        let mut entries: Vec<Entry> =
            ["a", "b", "c", "d", "e"].map(|label| entry(label, Presence::Filtered)).into();
        entries.push(entry("why", Presence::Hidden));
        PickList { entries, preset, ..PickList::default() }
    }

    fn page(preset: Option<usize>, page: usize, at: Option<usize>) -> Vec<String> {
        let list = list(preset);
        let rows: Vec<(String, String)> =
            list.entries.iter().map(|entry| (entry.label.clone(), entry.label.clone())).collect();
        let resting = Resting { list: &list, rows: &rows, page, help: "", is_coloured: false };
        let order = resting.order();
        let at = at.or(preset).unwrap_or(0);
        resting.page_of(&order, at).into_iter().map(|(_, row)| row).collect()
    }

    #[test]
    fn the_ready_answer_is_marked_in_its_place() {
        assert_eq!(page(Some(3), 9, None), ["  a", "  b", "  c", "> d", "  e"]);
        assert_eq!(page(None, 9, None)[0], "> a");
    }

    #[test]
    fn of_a_long_list_the_part_around_the_marked_row_is_shown() {
        assert_eq!(page(Some(4), 3, None), ["^ c", "  d", "> e"]);
        assert_eq!(page(None, 3, Some(2)), ["^ b", "> c", "v d"]);
        assert_eq!(page(None, 3, Some(0)), ["> a", "  b", "v c"]);
    }
}
