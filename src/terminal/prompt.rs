//! What a console is asked to put before a person.

use std::fmt;
use std::time::Duration;

use super::words::{Action, folded};
use crate::text::{Line, as_said};

/// One answer of a menu.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MenuOption {
    /// What is chosen, in a few words; different from every other label of the menu.
    pub label: String,
    /// What helps to tell it from the others; may be empty.
    pub hint: String,
    /// What the handbook calls it, which may be typed as well; empty where it has no such name.
    pub id: String,
    /// Words that may be typed for it as well.
    pub words: Vec<String>,
}

impl MenuOption {
    /// An answer without a hint.
    #[must_use]
    pub fn new(label: impl Into<String>) -> Self {
        Self { label: label.into(), hint: String::new(), id: String::new(), words: Vec::new() }
    }

    /// The same answer with the id that it has in the handbook.
    #[must_use]
    pub fn with_id(mut self, id: impl Into<String>) -> Self {
        self.id = id.into();
        self
    }

    /// The same answer with words that may be typed for it.
    #[must_use]
    pub fn with_words(mut self, words: Vec<String>) -> Self {
        self.words = words;
        self
    }

    /// Whether its id was typed, with blanks or without, or words that stand for it.
    pub(super) fn is_named(&self, typed: &str) -> bool {
        is_id(&self.id, typed) || are_words(&self.words, typed)
    }

    /// The same answer with a hint.
    #[must_use]
    pub fn with_hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = hint.into();
        self
    }
}

/// Whether what was typed is an id, with blanks or without.
pub(super) fn is_id(id: &str, typed: &str) -> bool {
    let bare = |text: &str| folded(&text.replace('_', " "));
    !id.is_empty() && bare(id) == bare(typed)
}

/// Whether what was typed is one of these words, but for case, blanks and hyphens. Who asks says none of
/// them: `R-32?`.
pub(super) fn are_words(words: &[String], typed: &str) -> bool {
    let said = as_said(typed);
    !said.is_empty()
        && !typed.trim_end().ends_with('?')
        && words.iter().any(|words| as_said(words) == said)
}

/// A choice of one among several answers.
#[derive(Clone, Debug, Default)]
pub struct Menu {
    /// What is asked: paragraphs, the question itself last.
    pub title: Vec<Line>,
    /// The answers in reading order. Without any, the actions alone are offered.
    pub options: Vec<MenuOption>,
    /// What may be done instead of answering. [`Action::NotSure`] stands at the end of the list
    /// of answers; the others are behind `more`.
    pub actions: Vec<Action>,
    /// Whether what answers to nothing here is handed back as [`super::Reply::Elsewhere`], since
    /// it may answer what was asked before; otherwise that is refused.
    pub hands_back: bool,
    /// Whether a word that fits several answers is asked about before the first of them is taken:
    /// for a list where each is weighty and nobody looks at it while typing.
    pub asks_which: bool,
    /// The place of the answer that stands ready for Enter: what was told names it. It is never
    /// taken without a key.
    pub preset: Option<usize>,
}

/// What became of a typed value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Checked {
    /// It was understood; `echo` says how (`read as 45 micron`).
    Accepted {
        /// The value as read, with its unit.
        echo: Line,
    },
    /// It cannot be used; the line says why and what is accepted.
    Refused(Line),
    /// It cannot be used here, but may belong to another question; the console hands it on as
    /// [`super::Reply::Elsewhere`].
    Elsewhere,
    /// It was understood, but looks like a slip.
    Doubtful {
        /// What looks wrong.
        message: Line,
        /// The value as read, with its unit.
        read: String,
        /// What was probably meant, as it would be typed.
        suggestion: Option<String>,
    },
}

/// A value to be typed.
pub struct ValuePrompt<'a> {
    /// What is asked: paragraphs, the question itself last.
    pub title: Vec<Line>,
    /// What may be typed, to stand after "type": `a pressure, such as 45 micron`.
    pub hint: String,
    /// What may be done instead of answering.
    pub actions: Vec<Action>,
    /// Judges what was typed. Must not have side effects: it may be called more than once for
    /// the same text.
    pub check: &'a dyn Fn(&str) -> Checked,
}

impl fmt::Debug for ValuePrompt<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("ValuePrompt")
            .field("title", &self.title)
            .field("hint", &self.hint)
            .field("actions", &self.actions)
            .finish_non_exhaustive()
    }
}

/// How a person confirms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Confirmation {
    /// They say that it is done; the reply is [`super::Reply::Done`].
    Done,
    /// They start the wait of this length that belongs to it; the reply is [`super::Reply::Done`].
    /// Whether it is done shows only when the wait is over. Where they tell that it is over
    /// already, the reply is [`super::Reply::Typed`] with their words.
    Started(Duration),
    /// They type who acknowledges; the reply is [`super::Reply::Typed`] with the name. For
    /// cautions that stop the work: an accidental Enter must not pass them.
    Acknowledged,
    /// The same, where they type for a caller who has had it read out: it is the caller's name.
    AcknowledgedByCaller,
}

/// Something to be done, or a caution to be acknowledged.
#[derive(Clone, Debug)]
pub struct ConfirmPrompt {
    /// What is to be done or known: paragraphs.
    pub title: Vec<Line>,
    /// How it is confirmed.
    pub by: Confirmation,
    /// What may be done instead.
    pub actions: Vec<Action>,
}

/// A time to be waited, which may be left at any moment.
#[derive(Clone, Debug)]
pub struct WaitPrompt {
    /// What is waited for: paragraphs.
    pub title: Vec<Line>,
    /// How long; zero is over at once.
    pub length: Duration,
    /// What may be done instead.
    pub actions: Vec<Action>,
}
