//! The menu of everything that can be done instead of answering, a key for each.

use super::keys::{Held, Key};
use crate::terminal::console::Reply;
use crate::terminal::words::{Action, explained, offered};
use crate::text::{Line, Role};

/// The rows of the menu, each with what stands before it.
pub(super) fn menu_of_actions(actions: &[Action]) -> Vec<(String, Line)> {
    let offered = offered(actions);
    let mut rows = Vec::new();
    if !offered.is_empty() {
        rows.push((String::new(), Line::plain("What would you rather do? Press its key.")));
    }
    for action in offered {
        rows.push((format!("  {}  ", action.key()), explained(action)));
    }
    let way_out = "Enter or Esc goes on with the question, Ctrl-D ends.";
    rows.push((String::new(), Line::new().push(Role::Quiet, way_out)));
    rows
}

/// Waits for a key of the menu. `None` goes on with the question.
pub(super) fn action_pressed(keys: &mut Held<'_>, actions: &[Action]) -> Option<Reply> {
    let offered = offered(actions);
    loop {
        match keys.next(None) {
            Ok(Some(Key::Character(character))) => {
                if let Some(action) = Action::from_key(character, &offered) {
                    return Some(Reply::Act(action));
                }
            }
            Ok(Some(Key::Enter | Key::Escape)) => return None,
            Ok(Some(Key::Interrupt)) => return Some(Reply::Interrupted),
            Ok(Some(Key::End) | None) | Err(_) => return Some(Reply::EndOfInput),
        }
    }
}
