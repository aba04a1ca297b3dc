//! The menu of everything that can be done instead of answering: a word is typed and entered, so
//! that a slip of the finger does nothing.

use std::io::{self, Write};

use super::keys::{Held, Key};
use super::line::erased;
use crate::terminal::console::Reply;
use crate::terminal::understanding::{Understood, action_typed, not_offered, understand};
use crate::terminal::words::{Action, explained, offered};
use crate::text::{Line, Role, inert};

/// The rows of the menu, each with what stands before it.
pub(super) fn menu_of_actions(actions: &[Action]) -> Vec<(&'static str, Line)> {
    let offered = offered(actions);
    let mut rows = Vec::new();
    if !offered.is_empty() {
        rows.push(("", Line::plain("What would you rather do? Type its word, then Enter.")));
    }
    rows.extend(offered.into_iter().map(|action| ("  ", explained(action))));
    let way_out = "Enter alone or Esc goes on with the question; Ctrl-D ends; a case is kept.";
    rows.push(("", Line::new().push(Role::Quiet, way_out)));
    rows
}

/// Reads words until one is of the menu. `None` goes on with the question; a number goes on with it
/// too, and is meant for its list.
pub(super) fn action_entered(
    keys: &mut Held<'_>,
    out: &mut dyn Write,
    actions: &[Action],
) -> Option<Reply> {
    loop {
        let typed = match word_entered(keys, out) {
            Ok(typed) => typed,
            Err(left) => return left,
        };
        if is_number(&typed) {
            return Some(Reply::Typed(typed.trim().to_owned()));
        }
        match action_meant(&typed, actions) {
            Ok(action) => return Some(Reply::Act(action)),
            Err(line) => {
                let said = write!(out, "{}\r\n", inert(&line.to_text())).and_then(|()| out.flush());
                if said.is_err() {
                    return Some(Reply::EndOfInput);
                }
            }
        }
    }
}

/// The action of this word, or of the word that begins so; or why there is none.
pub(super) fn action_meant(typed: &str, actions: &[Action]) -> Result<Action, Line> {
    let offered = offered(actions);
    if let Some(action) = action_typed(typed, &offered).filter(|a| !a.is_of_the_console()) {
        return Ok(action);
    }
    let words: Vec<&str> = offered.iter().map(|action| action.word()).collect();
    if let Some(line) = not_offered(typed) {
        return Err(line.push(Role::Plain, format!(" What is: {}.", words.join(", "))));
    }
    match understand(typed, &words, &[]) {
        Understood::Option(place) => Ok(offered[place]),
        Understood::Unclear(line) | Understood::Elsewhere(line) => Err(line),
        Understood::Act(action) => Err(explained(action)),
    }
}

/// The words have no numbers: one was meant for the list of the question behind them.
fn is_number(typed: &str) -> bool {
    let digits = typed.trim().trim_end_matches(['.', ')']);
    !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit())
}

/// One row of typing, shown as it is typed; or how the menu was left.
fn word_entered(keys: &mut Held<'_>, out: &mut dyn Write) -> Result<String, Option<Reply>> {
    let gone = |_: io::Error| Some(Reply::EndOfInput);
    let mut typed = String::new();
    loop {
        match keys.next(None).map_err(gone)? {
            Some(Key::Character(character)) => {
                typed.push(character);
                write!(out, "{}", inert(character.encode_utf8(&mut [0; 4]))).map_err(gone)?;
            }
            Some(Key::Enter) if typed.trim().is_empty() => return Err(None),
            Some(Key::Enter) => {
                write!(out, "\r\n").map_err(gone)?;
                return Ok(typed);
            }
            Some(Key::Escape) => return Err(None),
            Some(Key::Interrupt) => return Err(Some(Reply::Interrupted)),
            Some(Key::End) | None => return Err(Some(Reply::EndOfInput)),
            Some(key) => {
                for _ in 0..erased(&typed, key) {
                    typed.pop();
                    write!(out, "\u{8} \u{8}").map_err(gone)?;
                }
            }
        }
        out.flush().map_err(gone)?;
    }
}
