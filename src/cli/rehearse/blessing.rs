//! `rehearse --bless`: what was found becomes what is expected.

use std::path::Path;

use anyhow::{Context, Result, bail};

use super::reading::Read;
use crate::cli::arguments::RehearseArguments;
use crate::cli::exit::ExitStatus;
use crate::cli::hold_log::beside;
use crate::cli::session::Session;
use crate::document::raw::read_scenario;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::rehearsal::{Blessed, bless, rehearse, resolve_scenario};
use crate::source::Sources;
use crate::text::count;

/// Refuses to rewrite what was not named.
pub(super) fn check_named(arguments: &RehearseArguments) -> Result<()> {
    if arguments.all {
        return Ok(());
    }
    if arguments.scenarios.is_empty() {
        bail!("name the files that --bless may rewrite, or give --all");
    }
    match arguments.scenarios.iter().find(|path| path.is_dir()) {
        Some(folder) => bail!(
            "{} is a folder; name the files that --bless may rewrite, or give --all",
            folder.display()
        ),
        None => Ok(()),
    }
}

/// Rewrites the scenarios that fall short, and tells every value that it changed.
pub(super) fn run(
    session: &mut Session<'_>,
    handbook: &Handbook,
    engine: &Engine,
    scenarios: &[Read],
) -> Result<ExitStatus> {
    let (mut rewritten, mut short) = (0, 0);
    for read in scenarios {
        let misses = rehearse(&read.scenario, handbook, engine).misses;
        if misses.is_empty() {
            continue;
        }
        let Blessed { text, changes, mut left } = bless(&read.text, &read.raw, &misses);
        let word = if changes.is_empty() { "left" } else { "rewritten" };
        session.result(&format!("{word:<12} {}: {}", read.file, read.scenario.name))?;
        if !changes.is_empty() {
            std::fs::write(&read.file, &text)
                .with_context(|| format!("{} can't be written", read.file))?;
            rewritten += 1;
            left = left_in(&read.file, &text, handbook, engine)?;
        }
        for change in changes {
            let (line, path) = (change.line, change.path);
            session.result(&format!(
                "             line {line}: {path}: {} -> {}",
                change.old, change.new
            ))?;
        }
        short += usize::from(!left.is_empty());
        for why in left {
            session.result(&format!("             left to you: {why}"))?;
        }
    }
    let number = count(scenarios.len(), "scenario");
    session.result(&format!("{number}, {rewritten} rewritten, {short} still short"))?;
    Ok(if short == 0 { ExitStatus::Settled } else { ExitStatus::FellShort })
}

/// What a rewritten scenario still misses, since no value of it could be rewritten to that.
fn left_in(file: &str, text: &str, handbook: &Handbook, engine: &Engine) -> Result<Vec<String>> {
    let mut sources = Sources::default();
    let id = sources.add(file, text);
    let (Some(raw), _) = read_scenario(&sources, id) else {
        bail!("{file} can't be read any more");
    };
    let logs = beside(Path::new(file));
    let Ok(scenario) = resolve_scenario(&raw, handbook, &logs) else {
        bail!("{file} can't be read any more");
    };
    let Blessed { changes, left, .. } =
        bless(text, &raw, &rehearse(&scenario, handbook, engine).misses);
    let open = changes.into_iter().map(|change| format!("{} is still {}", change.path, change.old));
    Ok(left.into_iter().chain(open).collect())
}
