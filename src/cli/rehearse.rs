//! `dryhold rehearse`: runs scenarios, and measures what they reached.

mod blessing;
mod filling;
mod floor;
mod json;
mod junit;
mod reading;
mod text;
mod told;

use std::path::PathBuf;

use anyhow::Result;

pub use floor::Floor;
pub(super) use floor::read_floor;
pub(super) use reading::{Written, say_faults, written};

use super::arguments::{RehearsalFormat, RehearseArguments};
use super::exit::ExitStatus;
use super::load::load;
use super::session::Session;
use crate::case::Case;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::rehearsal::{Coverage, rehearse};
use reading::Read;
use told::{Told, Tried};

pub(super) fn run(session: &mut Session<'_>, arguments: &RehearseArguments) -> Result<ExitStatus> {
    if arguments.bless {
        blessing::check_named(arguments)?;
    }
    let Some(handbook) = load(session)?.handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let engine = Engine::new(&handbook)?;
    let folder = [PathBuf::from("scenarios")];
    let named: &[PathBuf] =
        if arguments.scenarios.is_empty() { &folder } else { &arguments.scenarios };
    let Some(scenarios) = reading::read(session, &handbook, named)? else {
        return Ok(ExitStatus::Unusable);
    };
    if arguments.bless {
        return blessing::run(session, &handbook, &engine, &scenarios);
    }
    let is_text = arguments.format == RehearsalFormat::Text;
    let detail = if is_text { Detail::EveryScenario } else { Detail::Nothing };
    let (mut coverage, told) =
        run_on(session, (&handbook, &engine), &scenarios, detail, &arguments.min_coverage)?;
    match arguments.format {
        RehearsalFormat::Text => {
            text::end(session, &told)?;
            if let Some(folder) = &arguments.write_missing {
                filling::write(session, &mut coverage, (&handbook, &engine), folder)?;
            }
        }
        RehearsalFormat::Json => session.result(&format!("{:#}", json::json(&told, &handbook)))?,
        RehearsalFormat::Junit => session.result(&junit::junit(&told))?,
    }
    Ok(if told.is_enough() { ExitStatus::Settled } else { ExitStatus::FellShort })
}

/// The cases that these scenarios come to; none if one of them has a fault, which is then reported.
pub(super) fn cases<'h>(
    session: &mut Session<'_>,
    handbook: &'h Handbook,
    engine: &'h Engine,
    named: &[PathBuf],
) -> Result<Option<Vec<Case<'h>>>> {
    let Some(scenarios) = reading::read(session, handbook, named)? else { return Ok(None) };
    let cases = scenarios.iter().map(|read| rehearse(&read.scenario, handbook, engine).case);
    Ok(Some(cases.collect()))
}

/// Rehearses these scenario files, or folders of them, and names those only that fell short.
pub(super) fn briefly(
    session: &mut Session<'_>,
    handbook: &Handbook,
    named: &[PathBuf],
) -> Result<ExitStatus> {
    let engine = Engine::new(handbook)?;
    let Some(scenarios) = reading::read(session, handbook, named)? else {
        return Ok(ExitStatus::Unusable);
    };
    let told = run_on(session, (handbook, &engine), &scenarios, Detail::WhatFellShort, &[])?.1;
    text::end(session, &told)?;
    Ok(if told.is_enough() { ExitStatus::Settled } else { ExitStatus::FellShort })
}

/// How much is said of scenarios as they come.
#[derive(Clone, Copy, PartialEq)]
enum Detail {
    EveryScenario,
    WhatFellShort,
    Nothing,
}

fn run_on(
    session: &mut Session<'_>,
    (handbook, engine): (&Handbook, &Engine),
    scenarios: &[Read],
    detail: Detail,
    floors: &[Floor],
) -> Result<(Coverage, Told)> {
    let mut coverage = Coverage::of(handbook);
    let mut tried = Vec::new();
    for read in scenarios {
        let rehearsed = rehearse(&read.scenario, handbook, engine);
        coverage.add(&rehearsed.case);
        let one = Tried::of(read, &rehearsed);
        let is_said = match detail {
            Detail::EveryScenario => true,
            Detail::WhatFellShort => one.outcome.is_short(),
            Detail::Nothing => false,
        };
        if is_said {
            text::scenario(session, &one)?;
        }
        tried.push(one);
    }
    coverage.leave_out_of_reach(handbook);
    let measured = coverage.measured();
    let below = floors.iter().flat_map(|floor| floor.short(&measured)).collect();
    Ok((coverage, Told { tried, measured, below }))
}
