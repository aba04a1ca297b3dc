//! The screen console: what its prompts do with widgets and keys.

use std::fmt;
use std::io::Write;

use unicode_width::UnicodeWidthStr;

use super::actions::{action_entered, menu_of_actions};
use super::inquire_widgets::InquireWidgets;
use super::keys::{Held, Keys, TerminalKeys};
use super::listing::Listing;
use super::widgets::Widgets;
use crate::terminal::clock::{Clock, SystemClock};
use crate::terminal::console::{Console, Reply};
use crate::terminal::paint::Paper;
use crate::terminal::prompt::{ConfirmPrompt, Menu, ValuePrompt, WaitPrompt};
use crate::terminal::understanding::listed;
use crate::terminal::words::{Action, table};
use crate::text::{Line, Role};

/// What a prompt's mark, its blanks and the cursor take of a row (columns).
pub(super) const MARK: usize = 5;

/// A console of lists to walk and fields to type in.
pub struct ScreenConsole<'a> {
    pub(super) out: Box<dyn Write + 'a>,
    pub(super) keys: Box<dyn Keys + 'a>,
    pub(super) widgets: Box<dyn Widgets + 'a>,
    pub(super) clock: Box<dyn Clock + 'a>,
    pub(super) paper: Paper,
    /// What was typed for the last answer of a list.
    pub(super) chosen_by: Option<String>,
}

impl ScreenConsole<'static> {
    /// The console of this process's terminal, which talks on standard error.
    #[must_use]
    pub fn of_this_process(is_coloured: bool) -> Self {
        Self {
            out: Box::new(std::io::stderr()),
            keys: Box::new(TerminalKeys::default()),
            widgets: Box::new(InquireWidgets::new(is_coloured)),
            clock: Box::new(SystemClock::new()),
            paper: Paper::of_terminal(is_coloured),
            chosen_by: None,
        }
    }
}

impl ScreenConsole<'_> {
    pub(super) fn say(&mut self, line: &Line) {
        self.say_after("", line);
    }

    pub(super) fn show_all(&mut self, lines: &[Line]) {
        for line in lines {
            self.say(line);
        }
        let _ = self.out.flush();
    }

    pub(super) fn say_after(&mut self, lead: &str, line: &Line) {
        // Talk that cannot be written has no reader; the next prompt finds out and ends.
        let _ = writeln!(self.out, "{}", self.paper.paint_after(lead, line));
    }

    /// Shows all of a title but its question, which goes before the place to answer if it fits on
    /// one row with an answer as wide as `answer`; otherwise `short` does. The question is the last
    /// strong line, else the last one.
    pub(super) fn head(&mut self, title: &[Line], short: &str, answer: usize) -> String {
        let room = self.paper.width().saturating_sub(answer + MARK);
        let fits = |line: &Line| {
            let text = line.to_text();
            let is_warning = line.pieces.iter().any(|piece| piece.role == Role::Warning);
            (!text.trim().is_empty() && !is_warning && text.width() <= room).then_some(text)
        };
        let is_strong = |line: &Line| line.pieces.iter().any(|piece| piece.role == Role::Strong);
        let asked = title.iter().rposition(is_strong).or(title.len().checked_sub(1));
        let fitting = asked.and_then(|place| Some((fits(title.get(place)?)?, place)));
        let Some((message, place)) = fitting else {
            self.show_all(title);
            return short.to_owned();
        };
        for (_, line) in title.iter().enumerate().filter(|(other, _)| *other != place) {
            self.say(line);
        }
        let _ = self.out.flush();
        message
    }

    /// Does what an action of the console's own asks for; any other is the reply. `None` goes on
    /// with the question.
    pub(super) fn act(&mut self, action: Action, actions: &[Action]) -> Option<Reply> {
        match action {
            Action::Help => {
                self.say(&Line::plain("These words can be typed instead of an answer."));
                for line in table(actions) {
                    self.say_after("  ", &line);
                }
                None
            }
            Action::More => self.more(actions),
            other => Some(Reply::Act(other)),
        }
    }

    pub(super) fn more(&mut self, actions: &[Action]) -> Option<Reply> {
        let rows = menu_of_actions(actions);
        let painted = rows.iter().map(|(lead, line)| self.paper.paint_after(lead, line) + "\n");
        let menu = painted.collect::<String>().replace('\n', "\r\n");
        let reply = {
            // Held before the menu is seen, so that no key is pressed too early to count.
            let Ok(mut keys) = Held::new(self.keys.as_mut()) else {
                return Some(Reply::EndOfInput);
            };
            if self.out.write_all(menu.as_bytes()).and_then(|()| self.out.flush()).is_err() {
                return Some(Reply::EndOfInput);
            }
            action_entered(&mut keys, self.out.as_mut(), actions)
        };
        // The word may have been left half typed on its row.
        if !matches!(reply, Some(Reply::Act(_) | Reply::Typed(_))) {
            let _ = writeln!(self.out);
        }
        reply
    }
}

impl fmt::Debug for ScreenConsole<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("ScreenConsole").field("paper", &self.paper).finish_non_exhaustive()
    }
}

impl Console for ScreenConsole<'_> {
    fn show(&mut self, lines: &[Line]) {
        self.show_all(lines);
    }

    fn choose(&mut self, menu: &Menu) -> Reply {
        if menu.options.is_empty() && listed(&menu.actions).is_empty() {
            return Reply::EndOfInput;
        }
        let widest = menu.options.iter().map(|option| option.label.width()).max().unwrap_or(0);
        let message = self.head(&menu.title, "Answer", widest);
        let listing = Listing {
            hands_back: menu.hands_back,
            asks_which: menu.asks_which,
            ..Listing::new(&menu.options, &menu.actions).with_a_preset(menu.preset)
        };
        self.pick_listed(message, listing, &menu.options, &menu.actions)
    }

    fn value(&mut self, prompt: &ValuePrompt<'_>) -> Reply {
        self.ask_value(prompt)
    }

    fn confirm(&mut self, prompt: &ConfirmPrompt) -> Reply {
        self.ask_confirmation(prompt)
    }

    fn words_of_choice(&mut self) -> Option<String> {
        self.chosen_by.take()
    }

    fn wait(&mut self, prompt: &WaitPrompt) -> Reply {
        self.let_pass(prompt)
    }
}
