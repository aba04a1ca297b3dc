//! Confirming that something is done or known.

use super::console::PlainConsole;
use crate::terminal::acknowledging::name_typed;
use crate::terminal::clock::spoken;
use crate::terminal::console::{ROUNDS, Reply};
use crate::terminal::past::past;
use crate::terminal::prompt::{ConfirmPrompt, Confirmation};
use crate::terminal::understanding::{action_typed, not_offered};
use crate::terminal::words::{Action, is_done, is_remark, is_started, not_done, not_started};
use crate::text::Line;

/// Asks to confirm.
pub(super) fn confirm(console: &mut PlainConsole<'_>, prompt: &ConfirmPrompt) -> Reply {
    present(console, prompt);
    for _ in 0..ROUNDS {
        let typed = match console.hear() {
            Ok(typed) => typed,
            Err(reply) => return reply,
        };
        if let Some(action) = action_typed(&typed, &prompt.actions) {
            if let Some(reply) = console.act(action, &prompt.actions) {
                return reply;
            }
            present(console, prompt);
            continue;
        }
        match confirmed(&typed, prompt) {
            Ok(reply) => return reply,
            Err(line) => console.say(&line),
        }
    }
    Reply::EndOfInput
}

fn present(console: &mut PlainConsole<'_>, prompt: &ConfirmPrompt) {
    for line in &prompt.title {
        console.say(line);
    }
    let what = match prompt.by {
        Confirmation::Done => "type done when it is done".to_owned(),
        Confirmation::Started(wait) => {
            format!("type start to begin the wait of {}, or done if it has passed", spoken(wait))
        }
        Confirmation::Acknowledged => "type your name or initials to acknowledge this".to_owned(),
        Confirmation::AcknowledgedByCaller => {
            "type the name or initials of the caller who acknowledges this".to_owned()
        }
    };
    console.offer(&what, &prompt.actions);
}

fn confirmed(typed: &str, prompt: &ConfirmPrompt) -> Result<Reply, Line> {
    match prompt.by {
        Confirmation::Acknowledged | Confirmation::AcknowledgedByCaller => {
            name_typed(typed).map(Reply::Typed).map_err(|line| not_offered(typed).unwrap_or(line))
        }
        Confirmation::Done if is_done(typed) => Ok(Reply::Done),
        Confirmation::Started(_) if is_started(typed) => Ok(Reply::Done),
        Confirmation::Started(_) if past(typed).is_some() => Ok(Reply::Typed(typed.to_owned())),
        _ if prompt.actions.contains(&Action::Another) && is_remark(typed) => {
            Ok(Reply::Elsewhere(typed.to_owned()))
        }
        Confirmation::Done => Err(not_done(&prompt.actions)),
        Confirmation::Started(_) => Err(not_started(&prompt.actions)),
    }
}
