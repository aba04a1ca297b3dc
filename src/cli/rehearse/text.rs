//! What a rehearsal says to people.

use anyhow::Result;

use super::told::{Told, Tried};
use crate::cli::session::Session;
use crate::rehearsal::{Measured, Outcome};
use crate::text::count;

/// What is said of a scenario that can't fall short.
const WITHOUT: &str = " (without an expectation)";

/// One scenario, with what was not as expected and why.
pub(super) fn scenario(session: &mut Session<'_>, tried: &Tried) -> Result<()> {
    let (outcome, name) = (tried.outcome.label(), &tried.name);
    let state = if tried.outcome == Outcome::NotJudged { WITHOUT } else { "" };
    session.result(&format!("{outcome:<12} {}: {name}{state}", tried.file))?;
    for miss in &tried.misses {
        session.result(&format!("             {}: {}", miss.outcome.label(), miss.text))?;
        for line in &miss.because {
            session.result(&format!("               - {line}"))?;
        }
    }
    for remark in &tried.remarks {
        session.result(&format!("             remark: {remark}"))?;
    }
    Ok(())
}

/// What the scenarios reached, whether that is enough, and how many came out as expected.
pub(super) fn end(session: &mut Session<'_>, told: &Told) -> Result<()> {
    coverage(session, &told.measured)?;
    if told.passed_over > 0 {
        session.result(&format!(
            "Only what the added folder brings is measured; {} of the built-in handbook are not \
             looked at (--all does).",
            told.passed_over
        ))?;
    }
    for short in &told.below {
        session.result(short)?;
    }
    let without = match told.not_judged() {
        0 => String::new(),
        number => format!(", {number} without an expectation"),
    };
    let (all, as_expected) = (told.tried.len(), told.count(|outcome| outcome == Outcome::Found));
    session.result(&format!("{}, {as_expected} as expected{without}", count(all, "scenario")))
}

/// How far the scenarios have come, and what they missed.
fn coverage(session: &mut Session<'_>, measured: &[Measured]) -> Result<()> {
    for one in measured.iter().filter(|one| !one.missing.is_empty()) {
        session.result(&format!("{}:", one.measure.missed(one.missing.len())))?;
        for name in &one.missing {
            session.result(&format!("  {name}"))?;
        }
    }
    session.result("reached:")?;
    for one in measured {
        let (label, covered, of) = (one.measure.label(), one.covered, one.of);
        session.result(&if of == 0 {
            format!("  {label:<12}        none to count")
        } else {
            format!("  {label:<12}{covered:>5} of {of:>4}{:>6} %", one.percent())
        })?;
    }
    Ok(())
}
