//! The one interface behind which a person answers.

use super::prompt::{ConfirmPrompt, Menu, ValuePrompt, WaitPrompt};
use super::words::Action;
use crate::text::Line;

/// What a person did at a prompt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reply {
    /// Chose the answer of this place (from 0) among the options.
    Chosen(usize),
    /// Typed this, without blanks around it. At a value prompt the check accepted it, or doubted
    /// it and the person kept it all the same.
    Typed(String),
    /// Said that it is done, or waited to the end, or left the wait early.
    Done,
    /// Typed this, which is no answer here and near to none; it may belong to another question, or
    /// be worth a note. Only where [`Action::Another`] is offered.
    Elsewhere(String),
    /// Wants something else. Never [`Action::More`] or [`Action::Help`].
    Act(Action),
    /// The input ended (Ctrl-D, the end of a pipe, a terminal that is gone). No prompt will be
    /// answered any more.
    EndOfInput,
    /// Pressed Ctrl-C.
    Interrupted,
}

/// A place where a person is told things and asked things.
///
/// Every prompt re-asks until it has a reply that its caller can use: what cannot be used is
/// answered with what can, and nothing typed is thrown away unsaid. A prompt gives up with
/// [`Reply::EndOfInput`] after [`ROUNDS`] rounds, so that an endless pipe ends too.
pub trait Console {
    /// Tells something: a paragraph for each line, wrapped to the width.
    fn show(&mut self, lines: &[Line]);
    /// Asks for one of several answers.
    fn choose(&mut self, menu: &Menu) -> Reply;
    /// Asks for a value to be typed.
    fn value(&mut self, prompt: &ValuePrompt<'_>) -> Reply;
    /// Asks to confirm that something is done or known.
    fn confirm(&mut self, prompt: &ConfirmPrompt) -> Reply;
    /// Lets a time pass, which may be left at any moment.
    fn wait(&mut self, prompt: &WaitPrompt) -> Reply;
    /// The words by which the last answer of a list was chosen; they may tell more than it. None where
    /// it was chosen by its number or its row.
    fn words_of_choice(&mut self) -> Option<String> {
        None
    }
}

/// How often one prompt asks before it takes its input for ended; an estimate: far more than a
/// person bears, and little enough for an endless pipe.
pub const ROUNDS: usize = 100;
