//! `dryhold why`: what stands behind a case.

use anyhow::{Context, Result, anyhow, bail};

use super::arguments::WhyArguments;
use super::diagnose::book;
use super::exit::ExitStatus;
use super::load::handbook;
use super::named_case::{find, is_number, names_a_case};
use super::session::Session;
use crate::book::{Book, read_journal};
use crate::case::{Case, Ending, Event};
use crate::evidence::Engine;
use crate::report::{verdict, why};

pub(super) fn run(session: &mut Session<'_>, arguments: &WhyArguments) -> Result<ExitStatus> {
    let Some(book) = book(session) else {
        bail!("there is no home folder; name the folder of the cases with --book FOLDER");
    };
    let Wanted { case, name } = wanted(&book, arguments)?;
    let file = find(&book, case)?;
    let Some(handbook) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let handbook = handbook.shown_in(&session.settings.units);
    let reading = read_journal(&file.path)?;
    for notice in &reading.notices {
        session.tell(notice)?;
    }
    let events: Vec<Event> = reading.entries.iter().map(|entry| entry.event.clone()).collect();
    let engine = Engine::new(&handbook)?;
    let case = Case::replay(&handbook, &engine, &events)
        .with_context(|| format!("the case `{}` can't be read with this handbook", file.id))?;
    session.tell(&format!("Case {}.", file.id))?;
    let lines = match name {
        Some(name) => why(&case, name).map_err(|message| anyhow!(message))?,
        None => verdict(&case, &Ending::Left),
    };
    session.result_lines(&lines)?;
    Ok(ExitStatus::Settled)
}

/// What is to be explained, and of which case.
struct Wanted<'a> {
    case: Option<&'a str>,
    name: Option<&'a str>,
}

/// A case may stand first without `--case`, as `report` takes it.
fn wanted<'a>(book: &Book, arguments: &'a WhyArguments) -> Result<Wanted<'a>> {
    let case = arguments.case.as_deref();
    let (first, second) = (arguments.case_or_name.as_deref(), arguments.name.as_deref());
    match (first, second) {
        (Some(_), Some(_)) if case.is_some() => bail!("two cases are named; name one of them"),
        (Some(first), Some(name)) => Ok(Wanted { case: Some(first), name: Some(name) }),
        (Some(first), None)
            if case.is_none() && (names_a_case(book, first) || is_number(first)) =>
        {
            Ok(Wanted { case: Some(first), name: None })
        }
        (name, _) => Ok(Wanted { case, name }),
    }
}
