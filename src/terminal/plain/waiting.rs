//! Letting a time pass without a display that moves.

use super::console::PlainConsole;
use crate::terminal::clock::spoken;
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::WaitPrompt;
use crate::terminal::understanding::{action_typed, not_offered};
use crate::terminal::words::is_done;
use crate::text::Line;

/// Says how long to wait and asks to confirm; done is taken early as well.
pub(super) fn wait(console: &mut PlainConsole<'_>, prompt: &WaitPrompt) -> Reply {
    if prompt.length.is_zero() {
        return Reply::Done;
    }
    let start = console.clock().now();
    present(console, prompt);
    for _ in 0..ROUNDS {
        let typed = match console.hear() {
            Ok(typed) => typed,
            Err(reply) => return reply,
        };
        let passed = console.clock().now().saturating_sub(start);
        if typed.is_empty() || is_done(&typed) {
            let length = spoken(prompt.length);
            console.say(&Line::plain(if passed >= prompt.length {
                format!("{length} have passed.")
            } else {
                format!("{} of {length} have passed.", spoken(passed))
            }));
            return Reply::Done;
        }
        match action_typed(&typed, &prompt.actions) {
            Some(action) => {
                if let Some(reply) = console.act(action, &prompt.actions) {
                    return reply;
                }
                present(console, prompt);
            }
            None => {
                let left = prompt.length.saturating_sub(passed);
                let line = Line::plain(format!("{} left. Press Enter to go on.", spoken(left)));
                console.say(&not_offered(&typed).unwrap_or(line));
            }
        }
    }
    Reply::EndOfInput
}

fn present(console: &mut PlainConsole<'_>, prompt: &WaitPrompt) {
    for line in &prompt.title {
        console.say(line);
    }
    let what = format!("wait {}, then press Enter; sooner if you must", spoken(prompt.length));
    console.offer(&what, &prompt.actions);
}
