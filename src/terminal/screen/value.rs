//! Typing a value, and a doubt about it.

use super::console::ScreenConsole;
use super::listing::Listing;
use super::picking::field_help;
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::doubt::{Settled, doubt_menu, settled};
use crate::terminal::prompt::{Checked, ValuePrompt};
use crate::terminal::understanding::refusal;
use crate::terminal::words::Action;
use crate::text::Line;

/// The room kept for a value beside its question (columns; limit of ours: few are longer).
const VALUE_WIDTH: usize = 20;

impl ScreenConsole<'_> {
    /// Asks for a value until one is accepted or kept.
    pub(super) fn ask_value(&mut self, prompt: &ValuePrompt<'_>) -> Reply {
        let message = self.head(&prompt.title, "Answer", VALUE_WIDTH);
        for _ in 0..ROUNDS {
            let typed = match self.type_value(prompt, &message) {
                Reply::Typed(typed) => typed,
                other => return other,
            };
            if let Some(reply) = self.settle(prompt, typed) {
                return reply;
            }
        }
        Reply::EndOfInput
    }

    fn type_value(&mut self, prompt: &ValuePrompt<'_>, message: &str) -> Reply {
        let help = field_help(&prompt.hint, &prompt.actions);
        let is_offered = prompt.actions.contains(&Action::NotSure);
        let refuse = |text: &str| match (prompt.check)(text) {
            Checked::Refused(_) if text.is_empty() => Some("Nothing was typed.".to_owned()),
            Checked::Refused(line) => {
                let line = refusal(text, &line).to_text();
                // A word that is not offered here was no try at a value.
                let is_told = is_offered && Action::from_word(text).is_none();
                Some(if is_told { format!("{line} Or type not sure.") } else { line })
            }
            Checked::Accepted { .. } | Checked::Doubtful { .. } | Checked::Elsewhere => None,
        };
        self.type_text(message.to_owned(), &help, &prompt.actions, &refuse)
    }

    /// The reply for a typed value; none if it is to be typed again.
    fn settle(&mut self, prompt: &ValuePrompt<'_>, mut typed: String) -> Option<Reply> {
        for _ in 0..ROUNDS {
            match (prompt.check)(&typed) {
                Checked::Accepted { echo } => {
                    if !echo.pieces.is_empty() {
                        self.say(&echo);
                    }
                    return Some(Reply::Typed(typed));
                }
                Checked::Refused(line) => {
                    self.say(&line);
                    return None;
                }
                Checked::Elsewhere => return Some(Reply::Elsewhere(typed)),
                Checked::Doubtful { message, read, suggestion } => {
                    match self.doubt(&read, &message, suggestion.as_deref()) {
                        Settled::Keep => return Some(Reply::Typed(typed)),
                        Settled::Take(meant) => typed = meant,
                        Settled::TypeAgain => return None,
                        Settled::Ended(reply) => return Some(reply),
                    }
                }
            }
        }
        None
    }

    fn doubt(&mut self, read: &str, message: &Line, suggestion: Option<&str>) -> Settled {
        self.say(message);
        let menu = doubt_menu(read, suggestion);
        let listing = Listing::new(&menu.options, &[]).with_an_idle_entry();
        let message = "What was meant?".to_owned();
        settled(self.pick_listed(message, listing, &menu.options, &[]), suggestion)
    }
}
