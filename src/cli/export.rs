//! `dryhold export`: a case with its handbook as one file, for somebody else.

use anyhow::{Result, bail};

use super::diagnose::book;
use super::exit::ExitStatus;
use super::handing_arguments::ExportArguments;
use super::named_case::find;
use super::session::Session;
use super::written_file::write_file;
use crate::book::{Book, HandbookMissing, HandedCase, KeptHandbook, read_journal};
use crate::case::Event;
use crate::text::{count, inert};

pub(super) fn run(session: &mut Session<'_>, arguments: &ExportArguments) -> Result<ExitStatus> {
    let Some(book) = book(session) else {
        bail!("there is no home folder; name the folder of the cases with --book FOLDER");
    };
    let file = find(&book, Some(&arguments.case))?;
    let reading = read_journal(&file.path)?;
    for notice in &reading.notices {
        session.tell(notice)?;
    }
    let bytes = std::fs::read(&file.path)?;
    let handed = HandedCase::of_file(&file.id, &bytes, None);
    if handed.events.is_empty() {
        bail!("the case `{}` holds nothing that can be read", inert(&file.id));
    }
    let handbook = handbook_of(session, &book, &handed)?;
    let handed = HandedCase { handbook, ..handed };
    let later = handed.events.iter().filter(|event| event.event == Event::Unknown).count();
    let handed = if arguments.redact { handed.without_names()? } else { handed };
    if arguments.redact && later > 0 {
        session.tell(&format!(
            "{} of a later version may say anything, and {} left out.",
            count(later, "event"),
            if later == 1 { "is" } else { "are" }
        ))?;
    }
    if arguments.output.is_none() && session.facts.stdout_is_terminal {
        bail!("the whole case would flood the terminal; give --output FILE, or lead it elsewhere");
    }
    let text = handed.write()?;
    let Some(path) = &arguments.output else {
        session.result(text.trim_end())?;
        return Ok(ExitStatus::Settled);
    };
    write_file(path, &text, "the case", arguments.force)?;
    let without = if arguments.redact { ", without names and free texts" } else { "" };
    session.tell(&format!(
        "Case {} is in {} with {}{without}.",
        inert(&file.id),
        path.display(),
        count(handed.events.len(), "event")
    ))?;
    Ok(ExitStatus::Settled)
}

/// The handbook that a case was begun with, from the book.
fn handbook_of(
    session: &mut Session<'_>,
    book: &Book,
    handed: &HandedCase,
) -> Result<Option<KeptHandbook>> {
    let Some(Event::Opened { handbook: hash, .. }) = handed.events.first().map(|e| &e.event) else {
        return Ok(None);
    };
    match book.handbook(hash) {
        Ok(kept) => Ok(Some(kept)),
        Err(missing) => {
            let why = match missing {
                HandbookMissing::NotThere => "the book doesn't hold its handbook".to_owned(),
                HandbookMissing::Unusable { .. } => missing.to_string(),
            };
            session.tell(&format!(
                "The case goes without its handbook ({why}); elsewhere it is judged by the one \
                 that is there."
            ))?;
            Ok(None)
        }
    }
}
