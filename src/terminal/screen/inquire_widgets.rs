//! The widgets as `inquire` draws them.

use std::cell::RefCell;
use std::fmt;
use std::rc::Rc;

use inquire::autocompletion::Replacement;
use inquire::list_option::ListOption;
use inquire::ui::{RenderConfig, Styled};
use inquire::{Autocomplete, CustomUserError, InquireError, Select, Text};
use unicode_width::UnicodeWidthStr;

use super::fitting::in_rows;
use super::widgets::{
    Entry, Field, Left, PickList, Picked, Presence, Widgets, is_not_what_was_typed, score,
};
use crate::terminal::paint::screen_size;
use crate::text::inert;

/// Rows of the screen that a list leaves free, for its question and its help.
const ROWS_KEPT: usize = 5;

/// The entries shown at once where nobody knows how many rows there are (common practice), and the
/// fewest.
const USUAL_ENTRIES: usize = 12;
const FEWEST_ENTRIES: usize = 3;

/// Draws on standard error, reads the terminal.
#[derive(Clone, Copy, Debug)]
pub(super) struct InquireWidgets {
    is_coloured: bool,
}

impl InquireWidgets {
    pub(super) fn new(is_coloured: bool) -> Self {
        Self { is_coloured }
    }

    fn config(self) -> RenderConfig<'static> {
        let config =
            if self.is_coloured { RenderConfig::default_colored() } else { RenderConfig::empty() };
        config.with_canceled_prompt_indicator(Styled::new(""))
    }
}

impl Widgets for InquireWidgets {
    fn pick(&mut self, list: &PickList) -> Left<Picked> {
        let typed = RefCell::new(list.filter.clone());
        let message = inert(&list.message);
        let options: Vec<Shown> = list
            .entries
            .iter()
            .enumerate()
            .map(|(place, entry)| Shown::new(place, entry))
            .collect();
        let scorer = |filter: &str, _: &Shown, _: &str, place: usize| {
            filter.clone_into(&mut typed.borrow_mut());
            // The cursor stands on the first row whenever the rows change.
            if filter.trim().is_empty() && list.preset == Some(place) {
                return Some(i64::MAX);
            }
            list.entries.get(place).and_then(|entry| score(filter, entry, place))
        };
        // What was refused is not said to be the entry that lasts beside it.
        let answer = |picked: ListOption<&Shown>| {
            let typed = typed.borrow();
            let taken = Picked { place: picked.index, filter: typed.clone() };
            match list.entries.get(picked.index) {
                Some(_) if !list.in_doubt(&taken).is_empty() => inert(&typed),
                Some(entry) if is_not_what_was_typed(&typed, entry, picked.index) => inert(&typed),
                _ => picked.value.label.clone(),
            }
        };
        let page = entries_shown(screen_size().1);
        let help = list_help(list, page);
        let left = Select::new(&message, options)
            .with_page_size(page)
            .with_starting_filter_input(&list.filter)
            .with_scorer(&scorer)
            .with_formatter(&answer)
            .with_help_message(&help)
            .with_render_config(self.config())
            .raw_prompt();
        let filter = typed.into_inner();
        let left = left.map(|picked| Picked { place: picked.index, filter: filter.clone() });
        how_left(left, filter)
    }

    fn type_text(&mut self, field: &Field) -> Left<String> {
        let typed = Rc::new(RefCell::new(field.text.clone()));
        let (message, help) = (inert(&field.message), inert(&field.help));
        let columns = usize::from(screen_size().0);
        let shown = |typed: &str| match columns {
            0 => inert(typed),
            columns => in_rows(&inert(typed), message.width(), columns),
        };
        let left = Text::new(&message)
            .with_initial_value(&field.text)
            .with_help_message(&help)
            .with_autocomplete(Remembered(Rc::clone(&typed)))
            .with_formatter(&shown)
            .with_render_config(self.config())
            .prompt();
        how_left(left.map(|text| text.trim().to_owned()), typed.take())
    }
}

/// How many entries are shown at once on a screen of so many rows; 0 if that is not known.
fn entries_shown(rows: u16) -> usize {
    match usize::from(rows) {
        0 => USUAL_ENTRIES,
        rows => rows.saturating_sub(ROWS_KEPT).max(FEWEST_ENTRIES),
    }
}

/// What stands below a list; where it is longer than the screen, how many there are.
fn list_help(list: &PickList, page: usize) -> String {
    let is_at_rest = |entry: &&Entry| entry.presence != Presence::Hidden;
    let rows = list.entries.iter().filter(is_at_rest).count();
    let numbered = list.entries.iter().filter(|entry| entry.is_numbered()).count();
    let more = if rows > page { format!("{numbered} in all: ") } else { String::new() };
    format!("{more}arrows or type; Esc for more")
}

fn how_left<T>(left: Result<T, InquireError>, typed: String) -> Left<T> {
    match left {
        Ok(answer) => Left::Answered(answer),
        Err(InquireError::OperationCanceled) => Left::Escaped(typed),
        Err(InquireError::OperationInterrupted) => Left::Interrupted,
        Err(_) => Left::Broken,
    }
}

/// An entry as it stands in the list.
struct Shown {
    label: String,
    row: String,
}

impl Shown {
    fn new(place: usize, entry: &Entry) -> Self {
        let label = inert(&entry.label);
        let mut row = match entry.presence {
            Presence::Hidden | Presence::Idle => label.clone(),
            Presence::Filtered | Presence::Lasting => format!("{}. {label}", place + 1),
        };
        if !entry.hint.is_empty() {
            row.push_str(&format!(" ({})", inert(&entry.hint)));
        }
        Self { label, row }
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.row)
    }
}

/// Keeps what is being typed, since a field that is left by Esc does not tell. Suggests nothing.
#[derive(Clone)]
struct Remembered(Rc<RefCell<String>>);

impl Autocomplete for Remembered {
    fn get_suggestions(&mut self, input: &str) -> Result<Vec<String>, CustomUserError> {
        input.clone_into(&mut self.0.borrow_mut());
        Ok(Vec::new())
    }

    fn get_completion(
        &mut self,
        _input: &str,
        _highlighted: Option<String>,
    ) -> Result<Replacement, CustomUserError> {
        Ok(None)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_leaves_room_for_its_question() {
        assert_eq!(entries_shown(0), USUAL_ENTRIES);
        assert_eq!(entries_shown(2), FEWEST_ENTRIES);
        assert_eq!(entries_shown(10), 5);
        assert_eq!(entries_shown(30), 25);
    }

    #[test]
    fn a_list_longer_than_the_screen_says_how_many_there_are() {
        let entry = |presence| Entry {
            label: "a".into(),
            hint: String::new(),
            id: String::new(),
            words: Vec::new(),
            presence,
        };
        let mut entries = vec![entry(Presence::Filtered); 4];
        entries.extend([Presence::Lasting, Presence::Hidden, Presence::Idle].map(entry));
        let list = PickList { entries, ..PickList::default() };
        assert_eq!(list_help(&list, 6), "arrows or type; Esc for more");
        assert_eq!(list_help(&list, 5), "5 in all: arrows or type; Esc for more");
    }

    #[test]
    fn an_entry_is_numbered_and_cannot_steer_the_terminal() {
        let mut entry = Entry {
            label: "a\u{1b}[2J".into(),
            hint: "b\u{7}".into(),
            id: String::new(),
            words: Vec::new(),
            presence: Presence::Filtered,
        };
        assert_eq!(Shown::new(0, &entry).to_string(), "1. a<U+001B>[2J (b<U+0007>)");
        entry.presence = Presence::Hidden;
        assert_eq!(Shown::new(0, &entry).to_string(), "a<U+001B>[2J (b<U+0007>)");
    }
}
