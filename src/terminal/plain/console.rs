//! The plain console: its writer, its source of lines, and what its prompts share.

use std::fmt;
use std::io::{self, Write};

use super::{confirming, menu, value, waiting};
use crate::text::{Line, Role, capital, inert};

use crate::terminal::clock::Clock;
use crate::terminal::console::{Console, Reply};
use crate::terminal::input::{Heard, LineSource, too_long};
use crate::terminal::paint::Paper;
use crate::terminal::prompt::{ConfirmPrompt, Menu, ValuePrompt, WaitPrompt};
use crate::terminal::understanding::listed;
use crate::terminal::words::{Action, offered, table};

/// What stands before the place to type.
const ANSWER: &str = "Answer: ";

/// A console of numbered lists and typed answers.
pub struct PlainConsole<'a> {
    lines: Box<dyn LineSource + 'a>,
    out: Box<dyn Write + 'a>,
    clock: Box<dyn Clock + 'a>,
    paper: Paper,
    /// What was typed for the last answer of a list.
    pub(super) chosen_by: Option<String>,
}

impl<'a> PlainConsole<'a> {
    /// A console that reads from `lines`, writes to `out` and waits by `clock`.
    #[must_use]
    pub fn new(
        lines: Box<dyn LineSource + 'a>,
        out: Box<dyn Write + 'a>,
        clock: Box<dyn Clock + 'a>,
        paper: Paper,
    ) -> Self {
        Self { lines, out, clock, paper, chosen_by: None }
    }

    pub(super) fn clock(&self) -> &dyn Clock {
        self.clock.as_ref()
    }

    pub(super) fn say(&mut self, line: &Line) {
        self.say_after("", line);
    }

    pub(super) fn say_after(&mut self, lead: &str, line: &Line) {
        let painted = self.paper.paint_after(lead, line);
        // Talk that cannot be written has no reader; asking finds out and ends the dialogue.
        let _ = writeln!(self.out, "{painted}");
    }

    /// Waits for an answer; what ends the dialogue comes back as the reply to give.
    pub(super) fn hear(&mut self) -> Result<String, Reply> {
        loop {
            if self.put(ANSWER).is_err() {
                return Err(Reply::EndOfInput);
            }
            let heard = self.lines.next_line();
            let shown = match &heard {
                Heard::Line(typed) if !self.lines.is_echoed() => inert(typed) + "\n",
                Heard::Line(_) => String::new(),
                Heard::TooLong | Heard::End | Heard::Interrupt => "\n".to_owned(),
            };
            let is_seen = self.put(&shown).is_ok();
            match heard {
                Heard::Line(typed) if is_seen => return Ok(typed.trim().to_owned()),
                Heard::TooLong if is_seen => self.say(&Line::warning(too_long())),
                Heard::Line(_) | Heard::TooLong | Heard::End => return Err(Reply::EndOfInput),
                Heard::Interrupt => return Err(Reply::Interrupted),
            }
        }
    }

    /// Does what an action of the console's own asks for; any other is the reply. `None` goes on
    /// with the question.
    pub(super) fn act(&mut self, action: Action, actions: &[Action]) -> Option<Reply> {
        match action {
            Action::Help => {
                self.help(actions);
                None
            }
            Action::More => self.more(actions),
            other => Some(Reply::Act(other)),
        }
    }

    fn help(&mut self, actions: &[Action]) {
        self.say(&Line::plain("These words can be typed instead of an answer."));
        for line in table(actions) {
            self.say_after("  ", &line);
        }
    }

    /// Lists everything that can be done instead of answering.
    fn more(&mut self, actions: &[Action]) -> Option<Reply> {
        let offered = offered(actions);
        self.say(&Line::plain("What would you rather do?"));
        let menu = Menu {
            title: Vec::new(),
            options: offered.iter().map(|action| menu::entry(*action)).collect(),
            actions: Vec::new(),
            ..Menu::default()
        };
        self.list(&menu);
        self.say(&Line::plain("An empty answer goes on with the question."));
        menu::choose_or_leave(self, &menu).map(|reply| match reply {
            Reply::Chosen(place) => offered.get(place).map_or(reply, |action| Reply::Act(*action)),
            other => other,
        })
    }

    /// Writes the numbered list of a menu.
    pub(super) fn list(&mut self, menu: &Menu) {
        let listed = listed(&menu.actions);
        let last = menu.options.len() + listed.len();
        let digits = last.to_string().len();
        for (place, option) in menu.options.iter().enumerate() {
            let lead = format!("{:>width$}. ", place + 1, width = digits + 2);
            self.say_after(&lead, &Line::new().push(Role::Name, option.label.as_str()));
            if !option.hint.is_empty() {
                let blanks = " ".repeat(lead.len());
                self.say_after(&blanks, &Line::new().push(Role::Quiet, option.hint.as_str()));
            }
        }
        for (place, action) in listed.iter().enumerate() {
            let number = menu.options.len() + place + 1;
            let lead = format!("{number:>width$}. ", width = digits + 2);
            self.say_after(&lead, &Line::new().push(Role::Name, action.word()));
        }
    }

    /// Says what may be typed: `what` as a sentence, and the words to type instead.
    pub(super) fn offer(&mut self, what: &str, actions: &[Action]) {
        let mut line = Line::plain(format!("{}.", capital(what)));
        let listed = listed(actions);
        for (place, action) in listed.iter().enumerate() {
            line = line.push(Role::Plain, if place == 0 { " Or: " } else { ", " });
            line = line.push(Role::Name, action.word());
        }
        if !listed.is_empty() {
            line = line.push(Role::Plain, ".");
        }
        self.say(&line);
    }

    fn put(&mut self, text: &str) -> io::Result<()> {
        self.out.write_all(text.as_bytes())?;
        self.out.flush()
    }
}

impl fmt::Debug for PlainConsole<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("PlainConsole").field("paper", &self.paper).finish_non_exhaustive()
    }
}

impl Console for PlainConsole<'_> {
    fn show(&mut self, lines: &[Line]) {
        for line in lines {
            self.say(line);
        }
        let _ = self.out.flush();
    }

    fn choose(&mut self, menu: &Menu) -> Reply {
        menu::choose(self, menu)
    }

    fn value(&mut self, prompt: &ValuePrompt<'_>) -> Reply {
        value::value(self, prompt)
    }

    fn confirm(&mut self, prompt: &ConfirmPrompt) -> Reply {
        confirming::confirm(self, prompt)
    }

    fn words_of_choice(&mut self) -> Option<String> {
        self.chosen_by.take()
    }

    fn wait(&mut self, prompt: &WaitPrompt) -> Reply {
        waiting::wait(self, prompt)
    }
}
