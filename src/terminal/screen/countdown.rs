//! A wait that counts down and may be left at any moment.

use std::io::Write;
use std::time::Duration;

use super::actions::action_meant;
use super::console::ScreenConsole;
use super::keys::{Held, Key, Keys};
use crate::terminal::clock::{Clock, spoken};
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::WaitPrompt;
use crate::text::{Line, Role, inert};

/// How often the display moves.
const STEP: Duration = Duration::from_secs(1);

/// The longest word that is taken beside the countdown (limit of ours: it stays in one row).
const LONGEST_WORD: usize = 30;

/// How the countdown was left.
#[derive(Clone, Debug, PartialEq, Eq)]
enum CountdownLeft {
    /// The time has passed.
    Over,
    /// By Enter alone, before it had.
    Early,
    /// By a word and Enter.
    Typed(String),
    /// By Esc.
    Escaped,
    /// By Ctrl-C.
    Interrupted,
    /// By Ctrl-D, or because the terminal is gone.
    Ended,
}

/// Counts down to the moment `end` of the clock.
fn count_down(
    out: &mut dyn Write,
    keys: &mut dyn Keys,
    clock: &dyn Clock,
    end: Duration,
) -> CountdownLeft {
    let Ok(mut keys) = Held::new(keys) else { return CountdownLeft::Ended };
    let (mut widest, mut typed) = (0, String::new());
    loop {
        let left = end.saturating_sub(clock.now());
        if left.is_zero() {
            return CountdownLeft::Over;
        }
        // Rounded up, so that the last second shown is 1 and not 0.
        let left_now = spoken(left.saturating_add(STEP - Duration::from_nanos(1)));
        let row = format!("{left_now} left  {}", inert(&typed));
        let row = row.trim_end();
        widest = widest.max(row.chars().count());
        if write!(out, "\r{row:widest$}").and_then(|()| out.flush()).is_err() {
            return CountdownLeft::Ended;
        }
        match keys.next(Some(left.min(STEP))) {
            Ok(None) => {}
            Ok(Some(Key::Character(character))) if typed.chars().count() < LONGEST_WORD => {
                typed.push(character);
            }
            Ok(Some(Key::Character(_))) => {}
            Ok(Some(Key::Backspace)) => {
                typed.pop();
            }
            Ok(Some(Key::Enter)) if typed.trim().is_empty() => return CountdownLeft::Early,
            Ok(Some(Key::Enter)) => return CountdownLeft::Typed(typed),
            Ok(Some(Key::Escape)) => return CountdownLeft::Escaped,
            Ok(Some(Key::Interrupt)) => return CountdownLeft::Interrupted,
            Ok(Some(Key::End)) | Err(_) => return CountdownLeft::Ended,
        }
    }
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
        let end = start.saturating_add(prompt.length);
        for _ in 0..ROUNDS {
            let (out, keys) = (self.out.as_mut(), self.keys.as_mut());
            let left = count_down(out, keys, self.clock.as_ref(), end);
            let _ = writeln!(self.out);
            let passed = self.clock.now().saturating_sub(start);
            match left {
                CountdownLeft::Over => {
                    // The bell is for whoever went to the pump meanwhile.
                    let _ = self.out.write_all(b"\x07");
                    self.say(&Line::plain(format!("{length} have passed.")));
                    return Reply::Done;
                }
                CountdownLeft::Early => {
                    let passed = spoken(passed);
                    self.say(&Line::plain(format!("{passed} of {length} have passed.")));
                    return Reply::Done;
                }
                CountdownLeft::Typed(typed) => match action_meant(&typed, &prompt.actions) {
                    Ok(action) => return Reply::Act(action),
                    Err(_) => self.say(&Line::plain(format!(
                        "Enter alone goes on sooner, Esc shows the words for more; \"{}\" is none.",
                        inert(typed.trim())
                    ))),
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
}
