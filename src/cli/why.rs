//! `dryhold why`: what stands behind a case.

use anyhow::{Context, Result, anyhow, bail};

use super::arguments::WhyArguments;
use super::diagnose::book;
use super::exit::ExitStatus;
use super::load::handbook;
use super::resume::find;
use super::session::Session;
use crate::book::read_journal;
use crate::case::{Case, Ending, Event};
use crate::evidence::Engine;
use crate::report::{verdict, why};

pub(super) fn run(session: &mut Session<'_>, arguments: &WhyArguments) -> Result<ExitStatus> {
    let Some(book) = book(session) else {
        bail!("there is no home folder; name the folder of the cases with --book FOLDER");
    };
    let file = find(&book, arguments.case.as_deref())?;
    let Some(handbook) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let reading = read_journal(&file.path)?;
    for notice in &reading.notices {
        session.tell(notice)?;
    }
    let events: Vec<Event> = reading.entries.iter().map(|entry| entry.event.clone()).collect();
    let engine = Engine::new(&handbook)?;
    let case = Case::replay(&handbook, &engine, &events)
        .with_context(|| format!("the case `{}` can't be read with this handbook", file.id))?;
    session.tell(&format!("Case {}.", file.id))?;
    let lines = match &arguments.name {
        Some(name) => why(&case, name).map_err(|message| anyhow!(message))?,
        None => verdict(&case, &Ending::Left),
    };
    session.result_lines(&lines)?;
    Ok(ExitStatus::Settled)
}
