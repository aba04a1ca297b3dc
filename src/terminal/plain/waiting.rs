//! Letting a time pass without a display that moves.

use super::console::PlainConsole;
use crate::terminal::beside_a_wait::{Beside, beside};
use crate::terminal::clock::spoken;
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::prompt::WaitPrompt;
use crate::text::{Line, Role};

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
        match beside(&typed, &prompt.actions) {
            Beside::Done => {
                let length = spoken(prompt.length);
                console.say(&Line::plain(if passed >= prompt.length {
                    format!("{length} have passed.")
                } else {
                    format!("{} of {length} have passed.", spoken(passed))
                }));
                return Reply::Done;
            }
            Beside::Act(action) => {
                if let Some(reply) = console.act(action, &prompt.actions) {
                    return reply;
                }
                present(console, prompt);
            }
            Beside::Elsewhere => return Reply::Elsewhere(typed),
            Beside::Unclear(line) => {
                let left = prompt.length.saturating_sub(passed);
                let left = format!(" {} left. Press Enter to go on.", spoken(left));
                console.say(&line.push(Role::Plain, left));
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
