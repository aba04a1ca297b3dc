//! Typing a value, and a doubt about it.

use super::console::ScreenConsole;
use super::listing::Listing;
use super::picking::field_help;
use super::widgets::{Left, PickList};
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::doubt::{Settled, doubt_menu, settled};
use crate::terminal::prompt::{Checked, ValuePrompt};
use crate::terminal::understanding::not_offered;
use crate::text::Line;

impl ScreenConsole<'_> {
    /// Asks for a value until one is accepted or kept.
    pub(super) fn ask_value(&mut self, prompt: &ValuePrompt<'_>) -> Reply {
        let message = self.head(&prompt.title, "Answer");
        let mut text = String::new();
        for _ in 0..ROUNDS {
            let typed = match self.type_value(prompt, &message, &mut text) {
                Reply::Typed(typed) => typed,
                other => return other,
            };
            match self.settle(prompt, typed) {
                Ok(reply) => return reply,
                Err(typed) => text = typed,
            }
        }
        Reply::EndOfInput
    }

    fn type_value(&mut self, prompt: &ValuePrompt<'_>, message: &str, text: &mut String) -> Reply {
        let help = field_help(&prompt.hint, &prompt.actions);
        let refuse = |text: &str| match (prompt.check)(text) {
            Checked::Refused(_) if text.is_empty() => Some("Nothing was typed.".to_owned()),
            Checked::Refused(line) => Some(not_offered(text).unwrap_or(line).to_text()),
            Checked::Accepted { .. } | Checked::Doubtful { .. } => None,
        };
        self.type_text(message.to_owned(), &help, text, &prompt.actions, &refuse)
    }

    /// The reply for a typed value, or the text to type on from.
    fn settle(&mut self, prompt: &ValuePrompt<'_>, mut typed: String) -> Result<Reply, String> {
        for _ in 0..ROUNDS {
            match (prompt.check)(&typed) {
                Checked::Accepted { echo } => {
                    self.say(&echo);
                    return Ok(Reply::Typed(typed));
                }
                Checked::Refused(line) => {
                    self.say(&line);
                    return Err(typed);
                }
                Checked::Doubtful { message, read, suggestion } => {
                    match self.doubt(&read, &message, suggestion.as_deref()) {
                        Settled::Keep => return Ok(Reply::Typed(typed)),
                        Settled::Take(meant) => typed = meant,
                        Settled::TypeAgain => return Err(typed),
                        Settled::Ended(reply) => return Ok(reply),
                    }
                }
            }
        }
        Err(typed)
    }

    fn doubt(&mut self, read: &str, message: &Line, suggestion: Option<&str>) -> Settled {
        self.say(message);
        let menu = doubt_menu(read, suggestion);
        let listing = Listing::new(&menu.options, &[]);
        let list = PickList {
            message: "What was meant?".to_owned(),
            entries: listing.entries,
            filter: String::new(),
        };
        match self.widgets.pick(&list) {
            Left::Answered(place) => settled(Reply::Chosen(place), suggestion),
            Left::Escaped(_) => Settled::TypeAgain,
            Left::Interrupted => Settled::Ended(Reply::Interrupted),
            Left::Broken => Settled::Ended(Reply::EndOfInput),
        }
    }
}
