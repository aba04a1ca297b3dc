//! `dryhold rehearse`: runs scenarios, and says what none of them reached.

use std::path::{Path, PathBuf};

use anyhow::{Result, bail};

use super::arguments::RehearseArguments;
use super::exit::ExitStatus;
use super::hold_log::beside;
use super::load::{Folder, load, read_folder, read_text};
use super::session::Session;
use crate::diagnostic::{Look, render};
use crate::document::raw::read_scenario;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::rehearsal::{Coverage, Outcome, Rehearsed, Scenario, rehearse, resolve_scenario};
use crate::source::{SourceId, Sources};
use crate::terminal::Stream;
use crate::text::count;

pub(super) fn run(session: &mut Session<'_>, arguments: &RehearseArguments) -> Result<ExitStatus> {
    let Some(handbook) = load(session)?.handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let folder = [PathBuf::from("scenarios")];
    let named: &[PathBuf] =
        if arguments.scenarios.is_empty() { &folder } else { &arguments.scenarios };
    run_on(session, &handbook, named, Detail::EveryScenario)
}

/// Rehearses these scenario files, or folders of them, and names those only that fell short.
pub(super) fn briefly(
    session: &mut Session<'_>,
    handbook: &Handbook,
    named: &[PathBuf],
) -> Result<ExitStatus> {
    run_on(session, handbook, named, Detail::WhatFellShort)
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
) -> Result<ExitStatus> {
    let engine = Engine::new(handbook)?;
    let Some(scenarios) = read(session, handbook, named)? else {
        return Ok(ExitStatus::Unusable);
    };
    let mut coverage = Coverage::default();
    let mut fell_short = 0;
    for (file, scenario) in &scenarios {
        let rehearsed = rehearse(scenario, handbook, &engine);
        coverage.add(&rehearsed.case);
        let is_found = rehearsed.outcome == Outcome::Found;
        fell_short += usize::from(!is_found);
        if detail == Detail::EveryScenario || !is_found {
            report(session, file, scenario, &rehearsed)?;
        }
    }
    report_coverage(session, &coverage, handbook)?;
    session.result(&format!(
        "{}, {} as expected",
        count(scenarios.len(), "scenario"),
        scenarios.len() - fell_short
    ))?;
    Ok(if fell_short == 0 { ExitStatus::Settled } else { ExitStatus::FellShort })
}

/// Reads all scenarios; none if one of them has a fault, which is then reported.
fn read(
    session: &mut Session<'_>,
    handbook: &Handbook,
    named: &[PathBuf],
) -> Result<Option<Vec<(String, Scenario)>>> {
    let mut sources = Sources::default();
    let mut files: Vec<SourceId> = Vec::new();
    let mut faults = Vec::new();
    for path in named {
        let Folder { files: read, unread } = read_path(&mut sources, path)?;
        files.extend(read);
        faults.extend(unread);
    }
    let mut scenarios = Vec::new();
    for id in files {
        let (raw, found) = read_scenario(&sources, id);
        let is_readable = found.is_empty();
        faults.extend(found);
        if let (Some(raw), true) = (raw, is_readable) {
            let logs = beside(Path::new(sources.get(id).name()));
            match resolve_scenario(&raw, handbook, &logs) {
                Ok(scenario) => scenarios.push((sources.get(id).name().to_owned(), scenario)),
                Err(found) => faults.extend(found),
            }
        }
    }
    if faults.is_empty() {
        return Ok(Some(scenarios));
    }
    let look = Look { colour: session.facts.is_coloured(Stream::Talk) };
    let text = render(&faults, &sources, look);
    session.say(text.trim_end())?;
    Ok(None)
}

fn read_path(sources: &mut Sources, path: &Path) -> Result<Folder> {
    if path.is_dir() {
        return read_folder(sources, path);
    }
    if !path.exists() {
        bail!("{} is not there; give scenario files, or folders of them", path.display());
    }
    let text = read_text(path)?;
    let files = vec![sources.add(path.display().to_string(), text)];
    Ok(Folder { files, unread: Vec::new() })
}

fn report(
    session: &mut Session<'_>,
    file: &str,
    scenario: &Scenario,
    rehearsed: &Rehearsed<'_>,
) -> Result<()> {
    session.result(&format!("{:<12} {file}: {}", rehearsed.outcome.label(), scenario.name))?;
    for miss in &rehearsed.misses {
        session.result(&format!("             {}: {}", miss.outcome.label(), miss.text))?;
    }
    Ok(())
}

fn report_coverage(
    session: &mut Session<'_>,
    coverage: &Coverage,
    handbook: &Handbook,
) -> Result<()> {
    let missed = [
        ("step", coverage.steps_missed(handbook)),
        ("branch", coverage.branches_missed(handbook)),
        ("finding", coverage.findings_missed(handbook)),
    ];
    for (what, missed) in missed {
        if missed.is_empty() {
            continue;
        }
        let counted = if what == "branch" {
            format!("{} branches", missed.len())
        } else {
            count(missed.len(), what)
        };
        session.result(&format!("{counted} that no scenario reached:"))?;
        for name in missed {
            session.result(&format!("  {name}"))?;
        }
    }
    Ok(())
}
