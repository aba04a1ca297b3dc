//! A watch line after line: from a pipe, or at a prompt where nothing can be drawn.

use anyhow::{Context, Result};

use super::Left;
use super::frame::{help, why};
use super::keeping::{Keeping, Outcome};
use super::now;
use super::state::{Effect, Heard, Watch};
use crate::cli::session::Session;
use crate::report::{rise_brief, rise_json};
use crate::terminal::{self, keyboard_lines};
use crate::text::capital;

/// What stands before a line to type.
const PROMPT: &str = "Reading: ";

/// Watches until the input ends.
pub(super) fn run(
    session: &mut Session<'_>,
    watch: &mut Watch<'_>,
    keeping: &mut Keeping,
    json: bool,
    is_prompted: bool,
) -> Result<Left> {
    let mut source = keyboard_lines().context("standard input can't be read")?;
    let mut left = Left::default();
    for number in 1_usize.. {
        if is_prompted {
            session.ask(PROMPT)?;
        }
        let heard = match source.next_line() {
            terminal::Heard::Line(line) => Heard::Line(line),
            terminal::Heard::End => Heard::End,
            terminal::Heard::Interrupt => Heard::Interrupt,
        };
        let is_over = !matches!(heard, Heard::Line(_));
        if is_over && is_prompted {
            session.say("")?;
        }
        let Outcome { effect, fault } = keeping.hear(watch, heard, now());
        if let Some(fault) = fault {
            session.tell(&fault)?;
        }
        let place = if is_prompted { String::new() } else { format!("line {number}: ") };
        match effect {
            Effect::Counted { is_looked_at, remark } => {
                if let Some(remark) = remark {
                    session.say(&format!("dryhold: {place}{remark}; taken as it stands"))?;
                }
                if is_looked_at {
                    print(session, watch, json)?;
                    left.is_printed = true;
                }
            }
            Effect::TakenBack => {
                print(session, watch, json)?;
                left.is_printed = true;
            }
            Effect::Refused(why) => {
                left.refused += 1;
                let why = if is_prompted { format!("{}.", capital(&why)) } else { why };
                let lead = if is_prompted { "" } else { "dryhold: " };
                session.say(&format!("{lead}{place}{why}"))?;
            }
            Effect::Doubted(message) => session.tell(&format!("{}.", capital(&message)))?,
            Effect::Help => session.tell_lines(&help(watch.unit()))?,
            Effect::Why => session.tell_lines(&why(watch))?,
            Effect::Leave { is_interrupted } => {
                left.is_interrupted = is_interrupted;
                break;
            }
            Effect::Nothing | Effect::Keep(_) | Effect::TakeBack => {}
        }
    }
    Ok(left)
}

fn print(session: &mut Session<'_>, watch: &Watch<'_>, json: bool) -> Result<()> {
    let look = watch.look();
    let line = if json {
        serde_json::to_string(&rise_json(&look.hold, &look.asked, look.reading.as_ref()))?
    } else {
        rise_brief(&look.hold, &look.asked, look.reading.as_ref(), look.is_settled())
    };
    session.result(&line)?;
    session.flush()
}
