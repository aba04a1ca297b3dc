//! Typing a value.

use super::console::PlainConsole;
use super::menu::choose_or_leave;
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::doubt::{Settled, doubt_menu, settled};
use crate::terminal::prompt::{Checked, ValuePrompt};
use crate::terminal::understanding::{action_typed, read_as, refusal};
use crate::text::Line;

/// Asks for a value.
pub(super) fn value(console: &mut PlainConsole<'_>, prompt: &ValuePrompt<'_>) -> Reply {
    present(console, prompt);
    let mut typed = None;
    for _ in 0..ROUNDS {
        let text = match typed.take().map_or_else(|| console.hear(), Ok) {
            Ok(text) => text,
            Err(reply) => return reply,
        };
        if let Some(action) = action_typed(&text, &prompt.actions) {
            read_as(action, &text).iter().for_each(|line| console.say(line));
            if let Some(reply) = console.act(action, &prompt.actions) {
                return reply;
            }
            present(console, prompt);
            continue;
        }
        match (prompt.check)(&text) {
            Checked::Accepted { echo } => {
                if !echo.pieces.is_empty() {
                    console.say(&echo);
                }
                return Reply::Typed(text);
            }
            Checked::Refused(line) => refuse(console, prompt, &text, &line),
            Checked::Elsewhere => return Reply::Elsewhere(text),
            Checked::Doubtful { message, read, suggestion } => {
                match doubt(console, &read, &message, suggestion.as_deref()) {
                    Settled::Keep => return Reply::Typed(text),
                    Settled::Take(other) => typed = Some(other),
                    Settled::TypeAgain => {}
                    Settled::Ended(reply) => return reply,
                }
            }
        }
    }
    Reply::EndOfInput
}

fn present(console: &mut PlainConsole<'_>, prompt: &ValuePrompt<'_>) {
    for line in &prompt.title {
        console.say(line);
    }
    offer(console, prompt);
}

fn offer(console: &mut PlainConsole<'_>, prompt: &ValuePrompt<'_>) {
    console.offer(&format!("type {}", prompt.hint), &prompt.actions);
}

fn refuse(console: &mut PlainConsole<'_>, prompt: &ValuePrompt<'_>, text: &str, line: &Line) {
    if text.is_empty() {
        console.say(&Line::plain("Nothing was typed."));
    } else {
        console.say(&refusal(text, line));
    }
    offer(console, prompt);
}

fn doubt(
    console: &mut PlainConsole<'_>,
    read: &str,
    message: &Line,
    suggestion: Option<&str>,
) -> Settled {
    let menu = doubt_menu(read, suggestion);
    console.say(message);
    console.list(&menu);
    match choose_or_leave(console, &menu) {
        Some(reply) => settled(reply, suggestion),
        None => Settled::TypeAgain,
    }
}
