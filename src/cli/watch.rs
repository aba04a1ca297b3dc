//! `dryhold watch`: a hold test that is read while it goes on.

mod doubt;
mod entry;
mod every;
mod frame;
mod keeping;
mod lines;
mod log;
mod look;
mod opening;
mod refusal;
mod screen;
mod state;
mod when;

use anyhow::{Result, bail};
use jiff::Timestamp;

use super::exit::ExitStatus;
use super::hold_arguments::WatchArguments;
use super::rise::{Wanted, status};
use super::session::Session;
use super::today::offset;
use crate::quantity::{QuantityKind, UnitExpression, parse_prompt_unit, parse_unit};
use crate::report::{missing_told, rise_json, rise_told};
use crate::terminal::Dialogue;
use every::Every;
use keeping::Keeping;
use state::Watch;
use when::Moment;

/// Where the readings come from and what is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    /// A person at a screen that is drawn in place.
    Screen,
    /// A person at a terminal, line after line.
    Prompt,
    /// Lines of a pipe.
    Pipe,
}

/// How the watch was left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Left {
    is_interrupted: bool,
    /// Lines that could not be used, of a pipe.
    refused: usize,
    /// Whether an object was printed already, with `--json`.
    is_printed: bool,
    /// Whether it stood on a screen of its own, of which nothing is left to be seen.
    is_drawn: bool,
}

pub(super) fn run(session: &mut Session<'_>, arguments: &WatchArguments) -> Result<ExitStatus> {
    let wanted = Wanted::of(&arguments.hold)?.shown_in(&arguments.hold, &session.settings.units)?;
    let every = Every::of(arguments.every.as_deref())?;
    let unit = unit(arguments.pressure_unit.as_deref())?;
    let plan = opening::plan(&wanted, &every);
    if arguments.plan {
        session.result_lines(&plan)?;
        return Ok(ExitStatus::Settled);
    }
    let way = way(session, arguments);
    let micron = parse_unit("micron").map_err(|error| anyhow::anyhow!("{error:?}"))?;
    // A pipe keeps to one unit, whoever's settings it runs under.
    let own = (way != Way::Pipe).then(|| wanted.shown.pressure_unit()).flatten();
    let fresh = unit.clone().or(own).unwrap_or(micron);
    let (mut keeping, found) = Keeping::open(session, arguments.log.as_deref(), &fresh)?;
    let column = found.as_ref().map_or(fresh, |found| found.unit.clone());
    let mut watch = Watch::new(&wanted, column.clone(), unit.unwrap_or(column), way != Way::Pipe);
    if let Some(found) = found {
        if let Some(notice) = &found.notice {
            session.tell(notice)?;
        }
        watch.take_up(found.entries);
    }
    let mut told = opening::told(&watch, &plan, now());
    if let Some(path) = keeping.path() {
        told.push(opening::kept_in(path));
    }
    session.tell_lines(&told)?;
    let left = match way {
        Way::Screen => screen::run(session, &mut watch, &mut keeping, &every, &told)?,
        Way::Prompt | Way::Pipe => {
            lines::run(session, &mut watch, &mut keeping, arguments.json, way == Way::Prompt)?
        }
    };
    conclude(session, &watch, keeping, arguments.json, left)
}

/// The moment, by the clock and the time zone of this machine.
fn now() -> Moment {
    let at = Timestamp::now();
    Moment { at, offset: offset(at) }
}

fn way(session: &Session<'_>, arguments: &WatchArguments) -> Way {
    if !session.facts.stdin_is_terminal {
        return Way::Pipe;
    }
    match session.facts.dialogue() {
        Some(Dialogue::Screen) if !arguments.json => Way::Screen,
        Some(Dialogue::Screen | Dialogue::Plain) => Way::Prompt,
        None => Way::Pipe,
    }
}

fn unit(text: Option<&str>) -> Result<Option<UnitExpression>> {
    let Some(text) = text else { return Ok(None) };
    match parse_prompt_unit(text, QuantityKind::PRESSURE) {
        Ok(unit) if unit.kind != QuantityKind::GAUGE_PRESSURE && unit.symbol != "inHg" => {
            Ok(Some(unit))
        }
        _ => bail!("--pressure-unit {text}: give a unit of absolute pressure such as micron or Pa"),
    }
}

/// Prints the reading as it is at the end, and the readings themselves if they are kept nowhere.
fn conclude(
    session: &mut Session<'_>,
    watch: &Watch<'_>,
    keeping: Keeping,
    json: bool,
    left: Left,
) -> Result<ExitStatus> {
    let look = watch.look();
    if json {
        if !left.is_printed {
            let json = rise_json(&look.hold, &look.asked, look.reading.as_ref());
            session.result(&serde_json::to_string(&json)?)?;
        }
    } else {
        if !watch.entries().is_empty() && !left.is_drawn {
            session.result("")?;
        }
        session.result_lines(&match &look.reading {
            Ok(reading) => rise_told(&look.hold, &look.asked, reading),
            Err(why) => missing_told(&look.hold, &look.asked, why),
        })?;
    }
    keeping.close(session, watch, json)?;
    Ok(match left {
        Left { is_interrupted: true, .. } => ExitStatus::Interrupted,
        Left { refused, .. } if refused > 0 && watch.entries().is_empty() => ExitStatus::Unusable,
        _ => status(&look.reading),
    })
}
