//! What was typed while a wait runs: a whole line, which is never lost.

use super::understanding::{action_typed, not_offered};
use super::words::{Action, folded, is_done, may_be_elsewhere, offered};
use crate::text::{Line, Role, inert, near_name};

/// What a line typed beside a wait means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Beside {
    /// The wait is left.
    Done,
    /// One of the actions offered, or of the console's own.
    Act(Action),
    /// It tells of something else, which the wait has no place for.
    Elsewhere,
    /// It tells nothing; the line says what can be typed.
    Unclear(Line),
}

/// What a line means. Words count in full only: a letter pressed by accident leaves no wait.
pub(super) fn beside(typed: &str, actions: &[Action]) -> Beside {
    if typed.trim().is_empty() || is_done(typed) {
        return Beside::Done;
    }
    if let Some(action) = action_typed(typed, actions) {
        return Beside::Act(action);
    }
    if let Some(line) = not_offered(typed) {
        return Beside::Unclear(line);
    }
    let shown = inert(typed.trim());
    let words = offered(actions).into_iter().map(Action::word);
    if let Some(near) = near_name(&folded(typed), words) {
        let line = Line::plain(format!("\"{shown}\" is no word here. Did you mean "));
        return Beside::Unclear(line.push(Role::Name, near).push(Role::Plain, "?"));
    }
    let tells = may_be_elsewhere(typed) || typed.chars().any(char::is_numeric);
    if tells && actions.contains(&Action::Another) {
        return Beside::Elsewhere;
    }
    Beside::Unclear(Line::plain(format!("\"{shown}\" is no word here; the wait goes on.")))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ACTIONS: [Action; 4] = [Action::Note, Action::Another, Action::Board, Action::Stop];

    #[test]
    fn only_whole_words_and_enter_do_something() {
        for typed in ["", "  ", "done", "OK"] {
            assert_eq!(beside(typed, &ACTIONS), Beside::Done, "{typed}");
        }
        assert_eq!(beside(" Stop ", &ACTIONS), Beside::Act(Action::Stop));
        assert_eq!(beside("?", &ACTIONS), Beside::Act(Action::Help));
        for typed in ["s", "n", "sto", "b", "back"] {
            assert!(matches!(beside(typed, &ACTIONS), Beside::Unclear(_)), "{typed}");
        }
    }

    #[test]
    fn a_slip_of_a_word_is_told_and_what_tells_something_is_handed_on() {
        let Beside::Unclear(line) = beside("borad", &ACTIONS) else {
            panic!("it is near to board")
        };
        assert_eq!(line.to_text(), "\"borad\" is no word here. Did you mean board?");
        for typed in ["480 micron", "hello", "it smells of burning", "12"] {
            assert_eq!(beside(typed, &ACTIONS), Beside::Elsewhere, "{typed}");
            let alone = beside(typed, &[Action::Stop]);
            assert!(matches!(alone, Beside::Unclear(_)), "{typed}");
        }
    }
}
