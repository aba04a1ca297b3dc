//! `dryhold close`: what fixed a case, for the record.

mod naming;

use anyhow::{Result, bail};
use jiff::Timestamp;

use super::book_arguments::{CloseArguments, short_enough};
use super::diagnose::book;
use super::exit::ExitStatus;
use super::load::handbook;
use super::named_case::find;
use super::resume::begun_with;
use super::session::Session;
use crate::book::Journal;
use crate::case::{Case, Closes, Closing, Details, Event, FixedBy};
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::text::{inert, spoken};
use naming::{causes_called, no_cause};

pub(super) fn run(session: &mut Session<'_>, arguments: &CloseArguments) -> Result<ExitStatus> {
    let Some(book) = book(session) else {
        bail!("there is no home folder; name the folder of the cases with --book FOLDER");
    };
    let file = find(&book, Some(&arguments.case))?;
    let given = arguments.details.details()?;
    let note = arguments.note.as_deref().map(|note| short_enough("note", note)).transpose()?;
    let Some(today) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let (mut journal, reading) = Journal::open(&file.path)?;
    for notice in &reading.notices {
        session.tell(notice)?;
    }
    let events: Vec<Event> = reading.entries.into_iter().map(|entry| entry.event).collect();
    if !reading.is_writable || events.is_empty() {
        bail!("the case `{}` is damaged, so nothing more is written to it", inert(&file.id));
    }
    let begun = begun_with(&book, &today, &events).and_then(Result::ok);
    let handbook = begun.as_ref().map_or(&today, |begun| &begun.handbook);
    let named = arguments.fixed_by.as_deref();
    let named = named.map(|typed| fixed_by(handbook, typed)).transpose()?;
    let shown = shown(handbook, &events)?;
    let proved = arguments.proved || shown.proved;
    let Some(fixed_by) = named.or(proved.then_some(shown.fixed_by)) else {
        bail!(
            "the case ended without a proof, so say what fixed it with --fixed-by: a cause, \
             nothing or unknown; or with --proved that it was proved since"
        );
    };
    if arguments.proved && !shown.proved {
        session.tell("Nothing in the case shows that proof; it is kept as you say it.")?;
    }
    let note = note.filter(|note| !note.is_empty());
    let closing = Closing { fixed_by, proved, note };
    let told = closed_in(handbook, &closing);
    let new = given.beyond(&Details::of(&events));
    if !new.is_empty() {
        journal.append(&Event::Described { details: new }, Timestamp::now())?;
    }
    journal.append(&Event::Closed { closing }, Timestamp::now())?;
    session.result(&format!("Case {} is closed: {told}.", inert(&file.id)))?;
    Ok(ExitStatus::Settled)
}

/// What a case shows by itself.
struct Shown {
    /// Whether it has come to an end that proves what the work was for.
    proved: bool,
    /// The likeliest of what was repaired in it, else that nobody knows.
    fixed_by: FixedBy,
}

fn shown(handbook: &Handbook, events: &[Event]) -> Result<Shown> {
    let engine = Engine::new(handbook)?;
    let Ok(case) = Case::replay(handbook, &engine, events) else {
        return Ok(Shown { proved: false, fixed_by: FixedBy::Unknown });
    };
    let proved = case.work_closed() == Some(Closes::Proved);
    let mended = case.assessment().repaired().filter(|(was, _)| was.probability >= LIKELY);
    let likeliest = mended.max_by(|(a, _), (b, _)| a.probability.total_cmp(&b.probability));
    let fixed_by = likeliest
        .map_or(FixedBy::Unknown, |(was, _)| FixedBy::Cause(handbook.cause(was.cause).id.clone()));
    Ok(Shown { proved, fixed_by })
}

/// A repair is taken for what fixed it where its cause was likely there (`estimate`: where words
/// of doubt begin with *likely*).
const LIKELY: f64 = 0.55;

/// What was named: nothing, unknown, or a cause by its id or one of its names.
fn fixed_by(handbook: &Handbook, typed: &str) -> Result<FixedBy> {
    let typed = typed.trim();
    let is_called = |name: &str| name.eq_ignore_ascii_case(typed);
    let named = handbook
        .causes()
        .iter()
        .find(|cause| [&cause.id, &cause.name, &cause.in_short].into_iter().any(|n| is_called(n)));
    match (named, typed.to_ascii_lowercase().as_str()) {
        (Some(cause), _) => Ok(FixedBy::Cause(cause.id.clone())),
        (None, "nothing") => Ok(FixedBy::Nothing),
        (None, "unknown") => Ok(FixedBy::Unknown),
        (None, _) => match &causes_called(handbook, typed)[..] {
            [only] => Ok(FixedBy::Cause(only.id.clone())),
            several => Err(no_cause(handbook, typed, several)),
        },
    }
}

/// How a case was closed, with the cause as the handbook calls it.
pub(super) fn closed_in(handbook: &Handbook, closing: &Closing) -> String {
    closing.told(&cause_name(handbook, &closing.fixed_by).unwrap_or_default())
}

/// The cause that a case was closed with, within a sentence; in words of its id where the handbook
/// doesn't have it.
pub(super) fn cause_name(handbook: &Handbook, fixed_by: &FixedBy) -> Option<String> {
    let FixedBy::Cause(id) = fixed_by else { return None };
    let known = handbook.find_cause(id).map(|cause| handbook.cause(cause).in_short.clone());
    Some(known.unwrap_or_else(|| spoken(id)))
}
