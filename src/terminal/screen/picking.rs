//! Asking until there is a reply: with a list, and with a field.

use super::console::ScreenConsole;
use super::listing::{Listing, Meaning};
use super::widgets::{Field, Left, PickList};
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::MenuOption;
use crate::terminal::understanding::{action_typed, listed};
use crate::terminal::words::Action;

impl ScreenConsole<'_> {
    /// Lets one of the options be picked, or an action; asks again until there is a reply.
    pub(super) fn pick(
        &mut self,
        message: String,
        options: &[MenuOption],
        actions: &[Action],
    ) -> Reply {
        let listing = Listing::new(options, actions);
        let mut list = PickList { message, entries: listing.entries, filter: String::new() };
        for _ in 0..ROUNDS {
            let meaning = match self.widgets.pick(&list) {
                Left::Answered(place) => listing.meanings.get(place).copied(),
                Left::Escaped(typed) => {
                    list.filter = typed;
                    Some(Meaning::Act(Action::More))
                }
                Left::Interrupted => return Reply::Interrupted,
                Left::Broken => return Reply::EndOfInput,
            };
            let reply = match meaning {
                Some(Meaning::Option(place)) => Some(Reply::Chosen(place)),
                Some(Meaning::Act(action)) => self.act(action, actions),
                None => None,
            };
            if let Some(reply) = reply {
                return reply;
            }
        }
        Reply::EndOfInput
    }

    /// Lets a text be typed that is not refused; asks again until there is a reply.
    pub(super) fn type_text(
        &mut self,
        message: String,
        help: &str,
        text: &mut String,
        actions: &[Action],
        refuse: &dyn Fn(&str) -> Option<String>,
    ) -> Reply {
        let refuse = |text: &str| match action_typed(text, actions) {
            Some(_) => None,
            None => refuse(text),
        };
        let help = help.to_owned();
        let mut field = Field { message, help, text: std::mem::take(text), refuse: &refuse };
        for _ in 0..ROUNDS {
            let action = match self.widgets.type_text(&field) {
                Left::Answered(typed) => match action_typed(&typed, actions) {
                    Some(action) => {
                        field.text.clear();
                        action
                    }
                    None => return Reply::Typed(typed),
                },
                Left::Escaped(typed) => {
                    field.text = typed;
                    Action::More
                }
                Left::Interrupted => return Reply::Interrupted,
                Left::Broken => return Reply::EndOfInput,
            };
            if let Some(reply) = self.act(action, actions) {
                return reply;
            }
        }
        Reply::EndOfInput
    }
}

/// What stands below a field: what to type, and the words that stand for something else.
pub(super) fn field_help(hint: &str, actions: &[Action]) -> String {
    let is_offered = listed(actions).contains(&Action::NotSure);
    let or_not = if is_offered { ", or not sure" } else { "" };
    format!("{hint}{or_not}; Esc for more")
}
