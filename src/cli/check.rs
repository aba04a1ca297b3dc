//! `dryhold check`: every mistake in a handbook.

use anyhow::{Result, bail};

use super::arguments::CheckArguments;
use super::exit::ExitStatus;
use super::load::{load, load_folder};
use super::session::Session;
use crate::diagnostic::{Look, render};
use crate::terminal::Stream;
use crate::text::count;

pub(super) fn run(session: &mut Session<'_>, arguments: &CheckArguments) -> Result<ExitStatus> {
    let options = session.arguments;
    if arguments.folder.is_some() && (options.only_rules.is_some() || !options.rules.is_empty()) {
        bail!("name the folder either behind `check` or with --rules or --only-rules, not both");
    }
    let loaded = match &arguments.folder {
        Some(folder) => load_folder(folder)?,
        None => load(session)?,
    };
    let look = Look { colour: session.facts.is_coloured(Stream::Results) };
    let text = render(&loaded.compiled.faults, &loaded.sources, look);
    if !text.is_empty() {
        session.result(text.trim_end())?;
    }
    match &loaded.compiled.handbook {
        Some(handbook) => {
            session.result(&format!(
                "{} (version {}) is sound: {}, {}, {}, {}.",
                handbook.name(),
                handbook.version(),
                count(handbook.trees().len(), "tree"),
                count(handbook.questions().len(), "question"),
                count(handbook.findings().len(), "finding"),
                count(handbook.causes().len(), "cause"),
            ))?;
            Ok(ExitStatus::Settled)
        }
        None => Ok(ExitStatus::HandbookFaulty),
    }
}
