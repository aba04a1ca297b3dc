//! `dryhold rise`: reads a hold test's log.

mod log;
mod temperature;
mod wanted;

use anyhow::Result;

use super::arguments::RiseArguments;
use super::charted::Charted;
use super::exit::ExitStatus;
use super::session::Session;
use crate::report::{missing_told, rise_json, rise_told};
use crate::rise::{Hold, Missing, Reading, Verdict, read};
use crate::series::Readings;

pub(super) fn run(session: &mut Session<'_>, arguments: &RiseArguments) -> Result<ExitStatus> {
    let wanted = wanted::Wanted::of(&arguments.hold)?;
    let Some(readings) = log::readings(session, arguments)? else {
        return Ok(ExitStatus::Unusable);
    };
    let hold = hold(&readings, &wanted);
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
    let charted =
        Charted { hold: &hold, reading: reading.as_ref().ok(), criterion: wanted.criterion };
    if arguments.plot {
        session.result("")?;
        charted.print(session)?;
    }
    if let Some(path) = &arguments.svg {
        charted.write(session, path, arguments.force)?;
    }
    Ok(status(&reading))
}

fn hold(readings: &Readings, wanted: &wanted::Wanted) -> Hold {
    let (times, pressures) = (readings.times().to_vec(), readings.pressures().to_vec());
    let mut hold = Hold::new(times, pressures, wanted.gauge, wanted.matters);
    hold.gauge.resolution = hold.gauge.resolution.or_else(|| readings.resolution());
    hold.weights = readings.weights().to_vec();
    hold.surroundings = wanted.surroundings;
    hold
}

/// What can't be told yet is not settled.
fn status(reading: &Result<Reading, Missing>) -> ExitStatus {
    match reading {
        Ok(reading) if reading.verdict != Verdict::CannotTell => ExitStatus::Settled,
        _ => ExitStatus::NotSettled,
    }
}
