//! `dryhold check`: every mistake in a handbook.

mod explain;
mod json;
mod not_proved;
mod sarif;
mod watching;

use std::path::Path;

use anyhow::{Result, bail};
use not_proved::{NotProved, in_words, not_proved};

use super::arguments::{CheckArguments, FaultFormat};
use super::exit::ExitStatus;
use super::load::{Loaded, load, load_built_in, load_folder};
use super::session::Session;
use crate::analysis::{self, Analysis};
use crate::diagnostic::{Code, Diagnostic, Look, Severity, is_cut_short, render};
use crate::handbook::{Compiled, Handbook, advise, waive};
use crate::terminal::Stream;
use crate::text::count;

pub(super) fn run(session: &mut Session<'_>, arguments: &CheckArguments) -> Result<ExitStatus> {
    if let Some(code) = &arguments.explain {
        explain::explain(session, code)?;
        return Ok(ExitStatus::Settled);
    }
    let options = session.arguments;
    if arguments.folder.is_some() && (options.only_rules.is_some() || !options.rules.is_empty()) {
        bail!("name the folder either behind `check` or with --rules or --only-rules, not both");
    }
    if arguments.watch {
        return watching::watch(session, arguments);
    }
    let is_sound = check(session, arguments)?.is_some();
    Ok(if is_sound { ExitStatus::Settled } else { ExitStatus::HandbookFaulty })
}

/// Checks once, says what was found, and gives the handbook if it is sound.
fn check(session: &mut Session<'_>, arguments: &CheckArguments) -> Result<Option<Handbook>> {
    let mut loaded = match &arguments.folder {
        Some(folder) => {
            let alone = load_folder(folder)?;
            if arguments.format == FaultFormat::Text && leans_on_built_in(&alone, folder)? {
                return says_how_to_check(session, folder);
            }
            alone
        }
        None => load(session)?,
    };
    let Compiled { handbook, written, faults } = &mut loaded.compiled;
    let mut open = Vec::new();
    if let Some(handbook) = handbook {
        faults.extend(advise(written, handbook));
        let analysis = Analysis::of(handbook);
        faults.extend(analysis::advise(written, &analysis));
        waive(written, faults);
        open = not_proved(&analysis);
    }
    let (faults, sources) = (&loaded.compiled.faults, &loaded.sources);
    let handbook = loaded.compiled.handbook.as_ref();
    match arguments.format {
        FaultFormat::Text => text(session, &loaded, &open)?,
        FaultFormat::Json => {
            session.result(&format!("{:#}", json::json(faults, sources, handbook, &open)))?
        }
        FaultFormat::Sarif => session.result(&format!("{:#}", sarif::sarif(faults, sources)))?,
    }
    Ok(loaded.compiled.handbook)
}

/// Whether a folder names what only the built-in handbook has: it is none of its own, and beside
/// that one it has fewer faults, missing keys such as those of a header not counted.
fn leans_on_built_in(alone: &Loaded, folder: &Path) -> Result<bool> {
    if alone.compiled.handbook.is_some() || alone.compiled.written.format.is_some() {
        return Ok(false);
    }
    let beside = load_built_in(&[folder.to_owned()])?;
    Ok(errors(&beside) < errors(alone))
}

fn errors(loaded: &Loaded) -> usize {
    let is_meant =
        |fault: &&Diagnostic| fault.severity() == Severity::Error && fault.code != Code::MissingKey;
    loaded.compiled.faults.iter().filter(is_meant).count()
}

fn says_how_to_check(session: &mut Session<'_>, folder: &Path) -> Result<Option<Handbook>> {
    let name = folder.display();
    session.say(&format!(
        "dryhold: {name} is no handbook of its own: it has no `format`, and names what the \
         built-in one has. It adds to that: dryhold check --rules {name}"
    ))?;
    Ok(None)
}

fn text(session: &mut Session<'_>, loaded: &Loaded, open: &[NotProved]) -> Result<()> {
    let look = Look { colour: session.facts.is_coloured(Stream::Results) };
    let text = render(&loaded.compiled.faults, &loaded.sources, look);
    if !text.is_empty() {
        session.result(text.trim_end())?;
    }
    if is_cut_short(&loaded.compiled.faults) {
        session.result("`--format json` lists all of them.")?;
    }
    match &loaded.compiled.handbook {
        Some(handbook) => session.result(&sound(handbook))?,
        None => return Ok(()),
    }
    match in_words(open) {
        Some(told) => session.result(&told),
        None => Ok(()),
    }
}

/// `Evacuation (version 1) is sound: 11 trees, ...`
fn sound(handbook: &Handbook) -> String {
    format!(
        "{} (version {}) is sound: {}, {}, {}, {}.",
        handbook.name(),
        handbook.version(),
        count(handbook.trees().len(), "tree"),
        count(handbook.questions().len(), "question"),
        count(handbook.findings().len(), "finding"),
        count(handbook.causes().len(), "cause"),
    )
}
