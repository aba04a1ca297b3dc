//! What stands in a list: the answers, then what may be done instead.

use super::widgets::{Entry, Presence};
use crate::terminal::prompt::MenuOption;
use crate::terminal::understanding::listed;
use crate::terminal::words::{Action, offered};
use crate::text::Line;

/// What an entry of a list stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Meaning {
    /// The answer of this place.
    Option(usize),
    /// Something else.
    Act(Action),
    /// Nothing yet.
    Nothing,
    /// What was typed may belong to another question.
    Elsewhere,
}

/// The entries of a list with what each stands for.
#[derive(Clone, Debug)]
pub(super) struct Listing {
    pub entries: Vec<Entry>,
    pub meanings: Vec<Meaning>,
    /// What is said to a text that answers to nothing, in the place of what is usually said.
    pub refusal: Option<Line>,
    /// Whether such a text is handed back instead.
    pub hands_back: bool,
    /// Whether a text that several answers answer to is asked about.
    pub asks_which: bool,
    /// The place of the answer that stands ready for Enter.
    pub preset: Option<usize>,
}

impl Listing {
    /// The answers, then *not sure* and *more* as far as they are offered, then the other words,
    /// hidden until they are typed. Where *not sure* may be said, it is a question of fact, and
    /// Enter by accident answers nothing. The last of them stays whatever is typed, so that a text
    /// which answers to nothing can be entered and is told so.
    pub(super) fn new(options: &[MenuOption], actions: &[Action]) -> Self {
        let mut listing = Self {
            entries: Vec::new(),
            meanings: Vec::new(),
            refusal: None,
            hands_back: false,
            asks_which: false,
            preset: None,
        };
        for (place, option) in options.iter().enumerate() {
            listing.push(Meaning::Option(place), &option.label, &option.hint, Presence::Filtered);
            if let Some(entry) = listing.entries.last_mut() {
                entry.id.clone_from(&option.id);
                entry.words.clone_from(&option.words);
            }
        }
        let listed = listed(actions);
        for action in &listed {
            listing.push(Meaning::Act(*action), action.word(), "", Presence::Filtered);
        }
        if let Some(last) = listing.entries.last_mut() {
            last.presence = Presence::Lasting;
        }
        let hidden = offered(actions).into_iter().chain([Action::Help]);
        for action in hidden.filter(|action| !listed.contains(action)) {
            listing.push(Meaning::Act(action), action.word(), action.does(), Presence::Hidden);
        }
        if listed.contains(&Action::NotSure) {
            listing = listing.with_an_idle_entry();
        }
        listing
    }

    /// The same with an entry first that answers nothing, for Enter by accident.
    pub(super) fn with_an_idle_entry(mut self) -> Self {
        self.push(Meaning::Nothing, "(nothing chosen yet)", "", Presence::Idle);
        self
    }

    /// The same with an answer ready for Enter, in the place of the entry that answers nothing.
    pub(super) fn with_a_preset(mut self, preset: Option<usize>) -> Self {
        self.preset =
            preset.filter(|place| self.meanings.get(*place) == Some(&Meaning::Option(*place)));
        if self.preset.is_some() {
            let idle = self.meanings.iter().position(|meaning| *meaning == Meaning::Nothing);
            if let Some(idle) = idle {
                self.meanings.remove(idle);
                self.entries.remove(idle);
            }
        }
        self
    }

    /// The same with words of its own for a text that answers to nothing.
    pub(super) fn with_a_refusal(self, refusal: Line) -> Self {
        Self { refusal: Some(refusal), ..self }
    }

    fn push(&mut self, meaning: Meaning, label: &str, hint: &str, presence: Presence) {
        self.meanings.push(meaning);
        let (label, hint) = (label.to_owned(), hint.to_owned());
        self.entries.push(Entry { label, hint, id: String::new(), words: Vec::new(), presence });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_come_first_and_other_words_are_hidden() {
        let listing = Listing::new(
            &[MenuOption::new("yes"), MenuOption::new("no")],
            &[Action::Why, Action::NotSure, Action::Back],
        );
        let rows: Vec<(&str, Presence)> =
            listing.entries.iter().map(|entry| (entry.label.as_str(), entry.presence)).collect();
        assert_eq!(
            rows,
            [
                ("yes", Presence::Filtered),
                ("no", Presence::Filtered),
                ("not sure", Presence::Filtered),
                ("more", Presence::Lasting),
                ("back", Presence::Hidden),
                ("why", Presence::Hidden),
                ("?", Presence::Hidden),
                ("(nothing chosen yet)", Presence::Idle),
            ]
        );
        let doubt = Listing::new(&[MenuOption::new("keep"), MenuOption::new("again")], &[]);
        let presences = doubt.entries.into_iter().map(|entry| entry.presence);
        assert_eq!(presences.collect::<Vec<_>>()[1], Presence::Lasting);
        let steps = Listing::new(&[MenuOption::new("done")], &[Action::Back]);
        assert!(!steps.meanings.contains(&Meaning::Nothing), "a step may be done by Enter");
        assert_eq!(steps.entries[1].presence, Presence::Lasting, "so that any text can be entered");
        assert_eq!(listing.meanings[1], Meaning::Option(1));
        assert_eq!(listing.meanings[2], Meaning::Act(Action::NotSure));
    }
}
