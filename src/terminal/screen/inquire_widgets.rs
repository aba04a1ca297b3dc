//! The widgets: a list at rest and a field are drawn here, a list that is filtered by `inquire`, which
//! types the letters of keys with Ctrl and cannot tell Ctrl-D from Esc.

use std::cell::RefCell;
use std::fmt;
use std::io::{self, Write};

use inquire::list_option::ListOption;
use inquire::ui::{RenderConfig, Styled};
use inquire::{InquireError, Select};

use super::field::read_field;
use super::keys::{Held, TerminalKeys};
use super::resting::{Rested, Resting};
use super::widgets::{
    Entry, Field, Left, PickList, Picked, Presence, Widgets, is_not_what_was_typed, score,
};
use crate::terminal::paint::screen_size;
use crate::text::inert;

/// Rows of the screen that a list leaves free, for its question and its help.
const ROWS_KEPT: usize = 5;

/// What stands below a list once something is typed in it.
const WHILE_TYPING: &str = "Enter takes the marked row";

/// The entries shown at once where nobody knows how many rows there are (common practice), and the
/// fewest.
const USUAL_ENTRIES: usize = 12;
const FEWEST_ENTRIES: usize = 3;

/// Draws on standard error, reads the terminal.
#[derive(Debug)]
pub(super) struct InquireWidgets {
    is_coloured: bool,
    keys: TerminalKeys,
}

impl InquireWidgets {
    pub(super) fn new(is_coloured: bool) -> Self {
        Self { is_coloured, keys: TerminalKeys::default() }
    }

    /// Lets a list be walked until something is typed in it; then it is filtered.
    fn rest(&mut self, list: &PickList) -> io::Result<Left<Picked>> {
        let page = entries_shown(screen_size().1);
        let shown = list.entries.iter().enumerate().map(|(place, entry)| Shown::new(place, entry));
        let rows: Vec<(String, String)> = shown.map(|shown| (shown.label, shown.row)).collect();
        let help = list_help(list, page);
        let is_coloured = self.is_coloured;
        let resting = Resting { list, rows: &rows, page, help: &help, is_coloured };
        // Held on while `inquire` takes over, so that no key falls between them.
        let mut keys = Held::new(&mut self.keys)?;
        match resting.walk(&mut keys, &mut io::stderr())? {
            Rested::Left(left) => Ok(left),
            Rested::Typed(filter) => {
                Ok(filtered(list, (&filter, WHILE_TYPING), config(is_coloured)))
            }
        }
    }
}

impl Widgets for InquireWidgets {
    fn pick(&mut self, list: &PickList) -> Left<Picked> {
        if list.filter.is_empty() {
            return self.rest(list).unwrap_or(Left::Broken);
        }
        let help = list_help(list, entries_shown(screen_size().1));
        filtered(list, (&list.filter, &help), config(self.is_coloured))
    }

    fn type_text(&mut self, field: &Field) -> Left<String> {
        read_field(&mut self.keys, &mut io::stderr(), field, self.is_coloured)
    }
}

fn config(is_coloured: bool) -> RenderConfig<'static> {
    let config = if is_coloured { RenderConfig::default_colored() } else { RenderConfig::empty() };
    config.with_canceled_prompt_indicator(Styled::new(""))
}

/// Lets an entry be picked from those that a filter leaves, which begins so.
fn filtered(
    list: &PickList,
    (filter, help): (&str, &str),
    config: RenderConfig<'static>,
) -> Left<Picked> {
    let typed = RefCell::new(filter.to_owned());
    let message = inert(&list.message);
    let entries = list.entries.iter().enumerate();
    let options: Vec<Shown> = entries.map(|(place, entry)| Shown::new(place, entry)).collect();
    let scorer = |filter: &str, _: &Shown, _: &str, place: usize| {
        filter.clone_into(&mut typed.borrow_mut());
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
    let left = Select::new(&message, options)
        .with_page_size(entries_shown(screen_size().1))
        .with_starting_filter_input(filter)
        .with_scorer(&scorer)
        .with_formatter(&answer)
        .with_help_message(help)
        .with_render_config(config)
        .raw_prompt();
    let filter = typed.into_inner();
    how_left(left.map(|picked| Picked { place: picked.index, filter: filter.clone() }), filter)
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
    let esc = if list.is_left_by_esc { "Esc leaves" } else { "Esc for more" };
    format!("{more}arrows or type; {esc}")
}

fn how_left<T>(left: Result<T, InquireError>, typed: String) -> Left<T> {
    match left {
        Ok(answer) => Left::Answered(answer),
        Err(InquireError::OperationCanceled) => Left::Escaped(typed),
        Err(InquireError::OperationInterrupted) => {
            // The list is left standing with the cursor in its first row; what follows would be
            // written into the others.
            let cleared = io::stderr().write_all(b"\x1b[J\r\n");
            cleared.map_or(Left::Broken, |()| Left::Interrupted)
        }
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
        let list = PickList { is_left_by_esc: true, ..list };
        assert_eq!(list_help(&list, 6), "arrows or type; Esc leaves");
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
