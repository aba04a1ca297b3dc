//! What a rehearsal says to people.

use anyhow::Result;

use super::reading::Read;
use crate::cli::session::Session;
use crate::rehearsal::{Measured, Outcome, Rehearsed};
use crate::text::count;

/// What is said of a scenario that can't fall short.
const WITHOUT: &str = " (without an expectation)";

/// One scenario, with what was not as expected.
pub(super) fn scenario(
    session: &mut Session<'_>,
    read: &Read,
    rehearsed: &Rehearsed<'_>,
) -> Result<()> {
    let (outcome, name) = (rehearsed.outcome.label(), &read.scenario.name);
    let state = if rehearsed.outcome == Outcome::NotJudged { WITHOUT } else { "" };
    session.result(&format!("{outcome:<12} {}: {name}{state}", read.file))?;
    for miss in &rehearsed.misses {
        session.result(&format!("             {}: {}", miss.outcome.label(), miss.text))?;
        for line in &miss.because {
            session.result(&format!("               - {line}"))?;
        }
    }
    Ok(())
}

/// How far the scenarios have come, and what they missed.
pub(super) fn coverage(session: &mut Session<'_>, measured: &[Measured]) -> Result<()> {
    for one in measured.iter().filter(|one| !one.missing.is_empty()) {
        session.result(&format!("{}:", one.measure.missed(one.missing.len())))?;
        for name in &one.missing {
            session.result(&format!("  {name}"))?;
        }
    }
    session.result("reached:")?;
    for one in measured {
        let (label, covered, of) = (one.measure.label(), one.covered, one.of);
        session.result(&format!("  {label:<12}{covered:>5} of {of:>4}{:>6} %", one.percent()))?;
    }
    Ok(())
}

/// The last line, and before it the coverage that is below what was asked for.
pub(super) fn end(
    session: &mut Session<'_>,
    scenarios: usize,
    as_expected: usize,
    not_judged: usize,
    below: &[String],
) -> Result<()> {
    for short in below {
        session.result(short)?;
    }
    let without = match not_judged {
        0 => String::new(),
        number => format!(", {number} without an expectation"),
    };
    session.result(&format!("{}, {as_expected} as expected{without}", count(scenarios, "scenario")))
}
