//! A wait that counts down and may be left at any moment.

use std::io::Write;
use std::time::Duration;

use unicode_width::UnicodeWidthStr;

use super::console::{MARK, ScreenConsole};
use super::keys::{Held, Key, Keys};
use super::line::erased;
use crate::terminal::beside_a_wait::{Beside, beside};
use crate::terminal::clock::{Clock, spoken};
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::WaitPrompt;
use crate::text::{Line, Role, inert};

/// How often the display moves.
const STEP: Duration = Duration::from_secs(1);

const BELL: &str = "\x07";

/// The longest line that is taken beside the countdown, in characters (limit of ours).
const LONGEST_LINE: usize = 200;

/// How the countdown was left.
#[derive(Clone, Debug, PartialEq, Eq)]
enum CountdownLeft {
    /// The time has passed.
    Over,
    /// By Enter alone, before it had.
    Early,
    /// By words and Enter.
    Typed(String),
    /// By Esc.
    Escaped,
    /// By Ctrl-C.
    Interrupted,
    /// By Ctrl-D, or because the terminal is gone.
    Ended,
}

/// Counts down to the moment `end` of the clock, on rows of so many columns. A line that is being
/// typed when the time is over is waited for.
fn count_down(
    out: &mut dyn Write,
    keys: &mut dyn Keys,
    clock: &dyn Clock,
    (end, columns): (Duration, usize),
) -> CountdownLeft {
    let Ok(mut keys) = Held::new(keys) else { return CountdownLeft::Ended };
    let (mut widest, mut typed) = (0, String::new());
    let mut is_rung = false;
    loop {
        let left = end.saturating_sub(clock.now());
        if left.is_zero() && typed.trim().is_empty() {
            return CountdownLeft::Over;
        }
        // The bell is for whoever went to the pump meanwhile.
        let bell = if left.is_zero() && !is_rung { BELL } else { "" };
        is_rung |= left.is_zero();
        let row = row(left, &typed, columns);
        widest = widest.max(row.width());
        let blanks = " ".repeat(widest - row.width());
        if write!(out, "{bell}\r{row}{blanks}").and_then(|()| out.flush()).is_err() {
            return CountdownLeft::Ended;
        }
        match keys.next((!left.is_zero()).then(|| left.min(STEP))) {
            Ok(None) => {}
            Ok(Some(Key::Character(character))) if typed.chars().count() < LONGEST_LINE => {
                typed.push(character);
            }
            Ok(Some(Key::Character(_))) => {}
            Ok(Some(Key::Enter)) if typed.trim().is_empty() => return CountdownLeft::Early,
            Ok(Some(Key::Enter)) => return CountdownLeft::Typed(typed),
            Ok(Some(Key::Escape)) => return CountdownLeft::Escaped,
            Ok(Some(Key::Interrupt)) => return CountdownLeft::Interrupted,
            Ok(Some(Key::End)) | Err(_) => return CountdownLeft::Ended,
            Ok(Some(key)) => {
                for _ in 0..erased(&typed, key) {
                    typed.pop();
                }
            }
        }
    }
}

/// What is left and what is being typed, in one row: of a long line its end.
fn row(left: Duration, typed: &str, columns: usize) -> String {
    // Rounded up, so that the last second shown is 1 and not 0.
    let left = spoken(left.saturating_add(STEP - Duration::from_nanos(1)));
    let lead = format!("{left} left  ");
    let room = columns.saturating_sub(lead.width() + MARK);
    let mut shown = inert(typed);
    while shown.width() > room && !shown.is_empty() {
        shown.remove(0);
    }
    format!("{lead}{shown}").trim_end().to_owned()
}

impl ScreenConsole<'_> {
    /// Lets a time pass on a display that counts down.
    pub(super) fn let_pass(&mut self, prompt: &WaitPrompt) -> Reply {
        if prompt.length.is_zero() {
            return Reply::Done;
        }
        self.show_all(&prompt.title);
        let length = spoken(prompt.length);
        let help = format!("Wait {length}. Enter goes on sooner, Esc for more.");
        self.say(&Line::new().push(Role::Quiet, help));
        let start = self.clock.now();
        let end = (start.saturating_add(prompt.length), self.paper.width());
        for _ in 0..ROUNDS {
            let (out, keys) = (self.out.as_mut(), self.keys.as_mut());
            let left = count_down(out, keys, self.clock.as_ref(), end);
            let _ = writeln!(self.out);
            let passed = self.clock.now().saturating_sub(start);
            match left {
                CountdownLeft::Over => {
                    let _ = self.out.write_all(BELL.as_bytes());
                    self.say(&Line::plain(format!("{length} have passed.")));
                    return Reply::Done;
                }
                CountdownLeft::Early => return self.left_early(passed, &length),
                CountdownLeft::Typed(typed) => match beside(&typed, &prompt.actions) {
                    Beside::Done => return self.left_early(passed, &length),
                    Beside::Act(action) => {
                        if let Some(reply) = self.act(action, &prompt.actions) {
                            return reply;
                        }
                    }
                    Beside::Elsewhere => return Reply::Elsewhere(typed.trim().to_owned()),
                    Beside::Unclear(line) => self.say(&line),
                },
                CountdownLeft::Escaped => {
                    match self.more(&prompt.actions) {
                        // A wait takes no number.
                        Some(Reply::Typed(_)) | None => {}
                        Some(reply) => return reply,
                    }
                }
                CountdownLeft::Interrupted => return Reply::Interrupted,
                CountdownLeft::Ended => return Reply::EndOfInput,
            }
        }
        Reply::EndOfInput
    }
    fn left_early(&mut self, passed: Duration, length: &str) -> Reply {
        self.say(&Line::plain(format!("{} of {length} have passed.", spoken(passed))));
        Reply::Done
    }
}
