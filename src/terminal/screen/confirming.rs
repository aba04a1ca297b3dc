//! Confirming that something is done or known.

use unicode_width::UnicodeWidthStr;

use super::console::ScreenConsole;
use super::listing::Listing;
use super::picking::field_help;
use crate::terminal::acknowledging::name_typed;
use crate::terminal::clock::spoken;
use crate::terminal::console::Reply;
use crate::terminal::past::OVER;
use crate::terminal::prompt::{ConfirmPrompt, Confirmation, MenuOption};
use crate::terminal::words::{DONE, NODS, START, not_done, not_started};
use crate::text::Line;

/// What leads past a wait that is over.
const PASSED: &str = "it has passed already";

fn owned(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

impl ScreenConsole<'_> {
    /// Asks until it is confirmed.
    pub(super) fn ask_confirmation(&mut self, prompt: &ConfirmPrompt) -> Reply {
        match prompt.by {
            Confirmation::Done => {
                let done = vec![MenuOption::new("done").with_words(owned(&DONE))];
                self.ask_to_tick_off(prompt, "Done?", done, not_done(&prompt.actions))
            }
            Confirmation::Started(wait) => {
                let start = MenuOption::new(format!("start the wait of {}", spoken(wait)))
                    .with_words([owned(&NODS), owned(&START)].concat());
                let past = MenuOption::new(PASSED).with_words(owned(&OVER));
                let ways = vec![start, past];
                self.ask_to_tick_off(prompt, "And now?", ways, not_started(&prompt.actions))
            }
            Confirmation::Acknowledged => {
                self.ask_name(prompt, "Who acknowledges this?", "your name or initials")
            }
            Confirmation::AcknowledgedByCaller => {
                self.ask_name(prompt, "Who at the unit acknowledges this?", "the caller's name")
            }
        }
    }

    fn ask_to_tick_off(
        &mut self,
        prompt: &ConfirmPrompt,
        short: &str,
        options: Vec<MenuOption>,
        refusal: Line,
    ) -> Reply {
        let widest = options.iter().map(|option| option.label.width()).max().unwrap_or_default();
        let message = self.head(&prompt.title, short, widest);
        let listing = Listing::new(&options, &prompt.actions).with_a_refusal(refusal);
        match self.pick_listed(message, listing, &options, &prompt.actions) {
            Reply::Chosen(0) => Reply::Done,
            Reply::Chosen(_) => Reply::Typed("done".to_owned()),
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
