//! A watch line after line: from a pipe, or at a prompt where nothing can be drawn.

use anyhow::{Context, Result};

use super::Left;
use super::frame::{help, why};
use super::keeping::{Keeping, Outcome};
use super::now;
use super::refusal::shown;
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
    let mut number = 0_usize;
    loop {
        if is_prompted {
            session.ask(PROMPT)?;
        }
        let heard = match source.next_line() {
            terminal::Heard::Line(line) => Heard::Line(line),
            terminal::Heard::TooLong => {
                number += 1;
                let why = "it is longer than any reading and counts as not typed".to_owned();
                let place = (!is_prompted).then(|| Place { number, text: String::new() });
                let refused = Effect::Refused(why);
                answer(session, watch, refused, place.as_ref(), json, &mut left)?;
                continue;
            }
            terminal::Heard::End => Heard::End,
            terminal::Heard::Interrupt => Heard::Interrupt,
        };
        number += 1;
        if is_prompted && !matches!(heard, Heard::Line(_)) {
            session.say("")?;
        }
        let place = (!is_prompted).then(|| Place::of(number, &heard));
        let Outcome { effect, fault } = keeping.hear(watch, heard, now());
        if let Some(fault) = fault {
            session.tell(&fault)?;
        }
        if let Effect::Leave { is_interrupted } = effect {
            left.is_interrupted = is_interrupted;
            return Ok(left);
        }
        answer(session, watch, effect, place.as_ref(), json, &mut left)?;
    }
}

/// Where a line of a pipe stands, so that it can be found.
struct Place {
    number: usize,
    text: String,
}

impl Place {
    fn of(number: usize, heard: &Heard) -> Self {
        let text = match heard {
            Heard::Line(line) => shown(line),
            _ => String::new(),
        };
        Self { number, text }
    }

    /// What is said of a reading that nobody could be asked about.
    fn doubted(&self, odd: &str) -> String {
        let Self { number, text } = self;
        format!(
            "dryhold: line {number}, `{text}`, is kept as it stands, but looks like a slip: {odd}. \
             A line `back` right after it removes it"
        )
    }
}

/// Answers a line; of a pipe with its place, so that it can be found.
fn answer(
    session: &mut Session<'_>,
    watch: &Watch<'_>,
    effect: Effect,
    place: Option<&Place>,
    json: bool,
    left: &mut Left,
) -> Result<()> {
    match effect {
        Effect::Counted { is_looked_at, remark } => {
            if let (Some(odd), Some(place)) = (remark, place) {
                session.say(&place.doubted(&odd))?;
            }
            if is_looked_at {
                print(session, watch, json)?;
                left.is_printed = true;
            }
            Ok(())
        }
        Effect::TakenBack => {
            left.is_printed = true;
            print(session, watch, json)
        }
        Effect::Refused(why) => {
            left.refused += 1;
            match place {
                Some(Place { number, .. }) => {
                    session.say(&format!("dryhold: line {number}: {why}"))
                }
                None => session.tell(&format!("{}.", capital(&why))),
            }
        }
        Effect::Doubted(message) => session.tell(&format!("{}.", capital(&message))),
        Effect::Help => session.tell_lines(&help(watch.unit())),
        Effect::Why => session.tell_lines(&why(watch)),
        Effect::Nothing | Effect::Keep(_) | Effect::TakeBack | Effect::Leave { .. } => Ok(()),
    }
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
