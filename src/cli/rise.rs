//! `dryhold rise`: reads a hold test's log.

mod bare;
mod log;
mod no_log;
mod temperature;
mod wanted;

use anyhow::Result;

pub(super) use no_log::no_log;
pub(super) use wanted::{Wanted, positive};

use super::arguments::RiseArguments;
use super::charted::Charted;
use super::exit::ExitStatus;
use super::session::Session;
use crate::report::{missing_told, rise_json, rise_told};
use crate::rise::{Missing, Reading, Verdict, read};

pub(super) fn run(session: &mut Session<'_>, arguments: &RiseArguments) -> Result<ExitStatus> {
    let wanted = Wanted::of(&arguments.hold)?.shown_in(&arguments.hold, &session.settings.units)?;
    let Some(readings) = log::readings(session, arguments, &wanted.shown)? else {
        return Ok(ExitStatus::Unusable);
    };
    let hold = wanted.hold(&readings);
    let asked = wanted.asked(&hold);
    let reading = read(&hold);
    if arguments.json {
        let json = rise_json(&hold, &asked, reading.as_ref());
        session.result(&serde_json::to_string(&json)?)?;
    } else {
        let lines = match &reading {
            Ok(reading) => rise_told(&hold, &asked, reading),
            Err(why) => missing_told(&hold, &asked, why),
        };
        session.result_lines(&lines)?;
    }
    let charted = Charted {
        hold: &hold,
        reading: reading.as_ref().ok(),
        criterion: wanted.criterion,
        shown: &wanted.shown,
    };
    if arguments.plot {
        session.result("")?;
        charted.print(session)?;
    }
    if let Some(path) = &arguments.svg {
        charted.write(session, path, arguments.force)?;
    }
    Ok(status(&reading))
}

/// What can't be told yet is not settled.
pub(super) fn status(reading: &Result<Reading, Missing>) -> ExitStatus {
    match reading {
        Ok(reading) if reading.verdict != Verdict::CannotTell => ExitStatus::Settled,
        _ => ExitStatus::NotSettled,
    }
}
