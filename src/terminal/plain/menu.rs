//! Choosing from a numbered list.

use super::console::PlainConsole;
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::{Menu, MenuOption};
use crate::terminal::understanding::{Understood, read_as, understand_option};
use crate::terminal::words::{Action, offered};
use crate::text::{Line, Role};

/// What is accepted at a list.
const ACCEPTED: &str = "Type a number or the first letters of an answer.";

/// An action as an entry of a list.
pub(super) fn entry(action: Action) -> MenuOption {
    MenuOption::new(action.word()).with_hint(action.does())
}

/// Asks for one of the answers of a menu.
pub(super) fn choose(console: &mut PlainConsole<'_>, menu: &Menu) -> Reply {
    if menu.options.is_empty() && offered(&menu.actions).is_empty() {
        return Reply::EndOfInput;
    }
    present(console, menu);
    for _ in 0..ROUNDS {
        let typed = match console.hear() {
            Ok(typed) => typed,
            Err(reply) => return reply,
        };
        let preset = menu.preset.filter(|place| typed.is_empty() && *place < menu.options.len());
        if let Some(place) = preset {
            return chosen(console, menu, place);
        }
        match understood(&typed, menu) {
            Understood::Option(place) => {
                console.chosen_by = typed.contains(char::is_alphabetic).then_some(typed);
                return chosen(console, menu, place);
            }
            Understood::Elsewhere(_) if menu.actions.contains(&Action::Another) => {
                return Reply::Elsewhere(typed);
            }
            Understood::Unclear(_) if menu.hands_back && !typed.is_empty() => {
                return Reply::Elsewhere(typed);
            }
            Understood::Elsewhere(_) if menu.hands_back => return Reply::Elsewhere(typed),
            Understood::Unclear(line) | Understood::Elsewhere(line) => refuse(console, line),
            Understood::Act(action) => {
                read_as(action, &typed).iter().for_each(|line| console.say(line));
                if let Some(reply) = console.act(action, &menu.actions) {
                    return reply;
                }
                present(console, menu);
            }
        }
    }
    Reply::EndOfInput
}

/// Asks for one of the answers of a list that is already shown; `None` if the answer was left
/// empty.
pub(super) fn choose_or_leave(console: &mut PlainConsole<'_>, menu: &Menu) -> Option<Reply> {
    for _ in 0..ROUNDS {
        let typed = match console.hear() {
            Ok(typed) if typed.is_empty() => return None,
            Ok(typed) => typed,
            Err(reply) => return Some(reply),
        };
        match understood(&typed, menu) {
            Understood::Option(place) => return Some(chosen(console, menu, place)),
            Understood::Act(_) => console.list(menu),
            Understood::Unclear(line) | Understood::Elsewhere(line) => refuse(console, line),
        }
    }
    Some(Reply::EndOfInput)
}

fn present(console: &mut PlainConsole<'_>, menu: &Menu) {
    for line in &menu.title {
        console.say(line);
    }
    console.list(menu);
    if let Some((place, option)) = menu.preset.and_then(|at| Some((at + 1, menu.options.get(at)?)))
    {
        let ready = Line::plain("Enter alone takes ").push(Role::Name, option.label.as_str());
        console.say(&ready.push(Role::Plain, format!(", number {place}.")));
    }
    let help = Line::plain(ACCEPTED)
        .push(Role::Plain, " Type ")
        .push(Role::Name, Action::Help.word())
        .push(Role::Plain, " for help.");
    console.say(&help);
}

fn understood(typed: &str, menu: &Menu) -> Understood {
    understand_option(typed, &menu.options, &menu.actions)
}

fn chosen(console: &mut PlainConsole<'_>, menu: &Menu, place: usize) -> Reply {
    if let Some(option) = menu.options.get(place) {
        console.say(&Line::plain("Chosen: ").push(Role::Name, option.label.as_str()));
    }
    Reply::Chosen(place)
}

fn refuse(console: &mut PlainConsole<'_>, line: Line) {
    console.say(&line.push(Role::Plain, format!(" {ACCEPTED}")));
}
