//! `dryhold rehearse`: runs scenarios, and measures what they reached.

mod blessing;
mod filling;
mod floor;
mod json;
mod junit;
mod population;
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
use super::parallel::in_order;
use super::session::Session;
use crate::case::Case;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::rehearsal::{Coverage, rehearse};
use population::Texts;
use reading::Read;
use told::{Told, Tried};

pub(super) fn run(session: &mut Session<'_>, arguments: &RehearseArguments) -> Result<ExitStatus> {
    if arguments.bless {
        blessing::check_named(arguments)?;
    }
    let loaded = load(session)?;
    let is_of_added = !loaded.added.is_empty() && !arguments.all;
    let added = if is_of_added { Some(loaded.added_entries()?) } else { None };
    let texts = arguments.fit.then(|| Texts {
        sources: loaded.sources.clone(),
        written: loaded.compiled.written.clone(),
    });
    let Some(handbook) = loaded.handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let engine = Engine::new(&handbook)?;
    if let Some(number) = arguments.population {
        let both = (&handbook, &engine);
        return population::run(session, arguments, number, both, texts.as_ref());
    }
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
    let mut coverage = Coverage::of(&handbook);
    let passed_over = added.map_or(0, |added| coverage.only_of(&added));
    let tried = run_on(session, (&handbook, &engine), &scenarios, detail, &mut coverage)?;
    let told = Told::of(tried, coverage.measured(), passed_over, &arguments.min_coverage);
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
    let mut coverage = Coverage::of(handbook);
    let detail = Detail::WhatFellShort;
    let tried = run_on(session, (handbook, &engine), &scenarios, detail, &mut coverage)?;
    let told = Told::of(tried, coverage.measured(), 0, &[]);
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

/// Runs scenarios, tells of each in the order of the files, and counts what they reach.
fn run_on(
    session: &mut Session<'_>,
    (handbook, engine): (&Handbook, &Engine),
    scenarios: &[Read],
    detail: Detail,
    coverage: &mut Coverage,
) -> Result<Vec<Tried>> {
    let nothing_reached = coverage.clone();
    let run = |read: &Read| {
        let rehearsed = rehearse(&read.scenario, handbook, engine);
        (Tried::of(read, &rehearsed), nothing_reached.reached_by(&rehearsed.case))
    };
    let mut tried = Vec::new();
    in_order(scenarios, run, |(one, reached)| {
        coverage.count(reached);
        let is_said = match detail {
            Detail::EveryScenario => true,
            Detail::WhatFellShort => one.outcome.is_short(),
            Detail::Nothing => false,
        };
        if is_said {
            text::scenario(session, &one)?;
        }
        tried.push(one);
        Ok(())
    })?;
    coverage.leave_out_of_reach(handbook);
    Ok(tried)
}
