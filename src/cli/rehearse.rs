//! `dryhold rehearse`: runs scenarios, and measures what they reached.

mod floor;
mod reading;
mod text;

use std::path::PathBuf;

use anyhow::Result;

pub use floor::Floor;
pub(super) use floor::read_floor;

use super::arguments::RehearseArguments;
use super::exit::ExitStatus;
use super::load::load;
use super::session::Session;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::rehearsal::{Coverage, Outcome, rehearse};

pub(super) fn run(session: &mut Session<'_>, arguments: &RehearseArguments) -> Result<ExitStatus> {
    let Some(handbook) = load(session)?.handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let folder = [PathBuf::from("scenarios")];
    let named: &[PathBuf] =
        if arguments.scenarios.is_empty() { &folder } else { &arguments.scenarios };
    run_on(session, &handbook, named, Detail::EveryScenario, &arguments.min_coverage)
}

/// Rehearses these scenario files, or folders of them, and names those only that fell short.
pub(super) fn briefly(
    session: &mut Session<'_>,
    handbook: &Handbook,
    named: &[PathBuf],
) -> Result<ExitStatus> {
    run_on(session, handbook, named, Detail::WhatFellShort, &[])
}

/// How much is said of scenarios.
#[derive(Clone, Copy, PartialEq)]
enum Detail {
    EveryScenario,
    WhatFellShort,
}

fn run_on(
    session: &mut Session<'_>,
    handbook: &Handbook,
    named: &[PathBuf],
    detail: Detail,
    floors: &[Floor],
) -> Result<ExitStatus> {
    let engine = Engine::new(handbook)?;
    let Some(scenarios) = reading::read(session, handbook, named)? else {
        return Ok(ExitStatus::Unusable);
    };
    let mut coverage = Coverage::of(handbook);
    let (mut fell_short, mut not_judged) = (0, 0);
    for read in &scenarios {
        let rehearsed = rehearse(&read.scenario, handbook, &engine);
        coverage.add(&rehearsed.case);
        let outcome = rehearsed.outcome;
        fell_short += usize::from(outcome.is_short());
        not_judged += usize::from(outcome == Outcome::NotJudged);
        if detail == Detail::EveryScenario || outcome.is_short() {
            text::scenario(session, read, &rehearsed)?;
        }
    }
    let measured = coverage.measured();
    text::coverage(session, &measured)?;
    let below: Vec<String> = floors.iter().flat_map(|floor| floor.short(&measured)).collect();
    let as_expected = scenarios.len() - fell_short - not_judged;
    text::end(session, scenarios.len(), as_expected, not_judged, &below)?;
    let is_enough = fell_short == 0 && below.is_empty();
    Ok(if is_enough { ExitStatus::Settled } else { ExitStatus::FellShort })
}
