//! Confirming that something is done or known.

use super::console::ScreenConsole;
use super::listing::Listing;
use super::picking::field_help;
use crate::terminal::acknowledging::name_typed;
use crate::terminal::console::Reply;
use crate::terminal::prompt::{ConfirmPrompt, Confirmation, MenuOption};
use crate::terminal::words::{DONE, not_done};

impl ScreenConsole<'_> {
    /// Asks until it is confirmed.
    pub(super) fn ask_confirmation(&mut self, prompt: &ConfirmPrompt) -> Reply {
        match prompt.by {
            Confirmation::Done => self.ask_done(prompt),
            Confirmation::Acknowledged => {
                self.ask_name(prompt, "Who acknowledges this?", "your name or initials")
            }
            Confirmation::AcknowledgedByCaller => {
                self.ask_name(prompt, "Who at the unit acknowledges this?", "the caller's name")
            }
        }
    }

    fn ask_done(&mut self, prompt: &ConfirmPrompt) -> Reply {
        let message = self.head(&prompt.title, "Done?", "done".len());
        let done = MenuOption::new("done").with_words(DONE.map(str::to_owned).to_vec());
        let options = [done];
        let listing =
            Listing::new(&options, &prompt.actions).with_a_refusal(not_done(&prompt.actions));
        match self.pick_listed(message, listing, &options, &prompt.actions) {
            Reply::Chosen(_) => Reply::Done,
            other => other,
        }
    }

    fn ask_name(&mut self, prompt: &ConfirmPrompt, message: &str, wanted: &str) -> Reply {
        self.show_all(&prompt.title);
        let refuse = |text: &str| name_typed(text).err().map(|line| line.to_text());
        let help = field_help(wanted, &prompt.actions);
        match self.type_text(message.to_owned(), &help, &prompt.actions, &refuse) {
            Reply::Typed(name) => Reply::Typed(name_typed(&name).unwrap_or(name)),
            other => other,
        }
    }
}
