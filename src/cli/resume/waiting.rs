//! The cases of a book that wait to be carried on.

use std::collections::HashMap;

use super::{begun_with, where_it_stands};
use crate::book::{Book, CaseFile, Reading, read_journal};
use crate::case::{Case, Closing, Detail, Details, Event, Now};
use crate::cli::load::{Ready, ready_unless_faulty};
use crate::cli::session::Session;
use crate::evidence::Engine;
use crate::handbook::{Closes, Handbook};
use crate::text::inert;

/// A case that waits.
pub(super) struct Waiting {
    pub file: CaseFile,
    /// Where it stands, and at which place the job is.
    pub stands: String,
}

/// The cases that wait, the one written last first.
pub(super) struct WaitingCases {
    /// Up to as many as were wanted.
    pub latest: Vec<Waiting>,
    /// Whether there is another one.
    pub has_more: bool,
    /// Those that were stopped for safety, up to as many as were wanted.
    pub stopped: Vec<Waiting>,
}

/// How many cases of each kind are wanted at most.
#[derive(Clone, Copy, Debug)]
pub(super) struct Most {
    pub waiting: usize,
    pub stopped: usize,
}

/// So many case files are looked into for one that waits (`estimate`: well below a second; what lies
/// behind them is found with `cases`).
const MOST_LOOKED_INTO: usize = 100;

/// Behind so many of the latest cases no further one is looked for that was stopped (`estimate`: a
/// day's work; `cases` lists all).
const MOST_LOOKED_FOR_STOPS: usize = 20;

/// The latest of the cases that wait, and of those that were stopped for safety, at most so many.
pub(super) fn waiting(session: &Session<'_>, book: &Book, most: Most) -> WaitingCases {
    let mut found = WaitingCases { latest: Vec::new(), has_more: false, stopped: Vec::new() };
    let begun: Vec<Begun> =
        book.cases().into_iter().take(MOST_LOOKED_INTO).filter_map(open).collect();
    // Nothing is made ready for a book without a case to carry on.
    if begun.is_empty() {
        return found;
    }
    let Some(today) = Judge::of(ready_unless_faulty(session)) else { return found };
    let mut others: HashMap<String, Option<Judge>> = HashMap::new();
    for (place, case) in begun.into_iter().enumerate() {
        let no_more_stops = place >= MOST_LOOKED_FOR_STOPS || found.stopped.len() == most.stopped;
        if found.has_more && no_more_stops {
            break;
        }
        let own = own(book, &today.handbook, &case.events, &mut others);
        let Some(stands) = stands(own.unwrap_or(&today), &case) else { continue };
        let (list, most) = match stands {
            Waits::Unfinished(_) => (&mut found.latest, most.waiting),
            Waits::Stopped(_) => (&mut found.stopped, most.stopped),
        };
        match stands {
            Waits::Unfinished(stands) | Waits::Stopped(stands) if list.len() < most => {
                list.push(Waiting { file: case.file, stands });
            }
            Waits::Unfinished(_) => found.has_more = true,
            Waits::Stopped(_) => {}
        }
    }
    found
}

/// A case that was begun and is not closed.
struct Begun {
    file: CaseFile,
    reading: Reading,
    events: Vec<Event>,
}

fn open(file: CaseFile) -> Option<Begun> {
    let reading = read_journal(&file.path).ok()?;
    let events: Vec<Event> = reading.entries.iter().map(|entry| entry.event.clone()).collect();
    // A case with nothing in it but its opening is not worth carrying on.
    let opening = |event: &Event| matches!(event, Event::Opened { .. } | Event::Worded { .. });
    let is_begun = !events.iter().all(opening) && Closing::of(&events).is_none();
    is_begun.then_some(Begun { file, reading, events })
}

/// A handbook, ready to judge.
struct Judge {
    handbook: Handbook,
    engine: Engine,
}

impl Judge {
    fn of(ready: Option<Ready>) -> Option<Self> {
        let handbook = ready?.handbook;
        let engine = Engine::new(&handbook).ok()?;
        Some(Self { handbook, engine })
    }
}

/// The handbook that a case was begun with, where it is another than today's and can be had; each is
/// made once.
fn own<'o>(
    book: &Book,
    today: &Handbook,
    events: &[Event],
    others: &'o mut HashMap<String, Option<Judge>>,
) -> Option<&'o Judge> {
    let Some(Event::Opened { handbook: hash, .. }) = events.first() else { return None };
    let made = || Judge::of(begun_with(book, today, events)?.ok());
    others.entry(hash.clone()).or_insert_with(made).as_ref()
}

/// Where a case stands that can be carried on.
enum Waits {
    Unfinished(String),
    Stopped(String),
}

/// Where a case stands that waits to be carried on, or why it was stopped; none for one at its end.
fn stands(judge: &Judge, begun: &Begun) -> Option<Waits> {
    let case = Case::replay(&judge.handbook, &judge.engine, &begun.events).ok()?;
    let details = Details::of(&begun.events);
    let place = details.get(Detail::Place).map(|place| format!("{}: ", inert(place)));
    let place = place.unwrap_or_default();
    let why = match case.now() {
        Now::Stopped { text, .. } => Some(text.to_text()),
        Now::Acknowledge { caution, .. } => Some(case.caution_view(*caution).text.to_text()),
        Now::Ended { .. } if case.work_closed() != Some(Closes::Waits) => return None,
        _ => None,
    };
    Some(match why {
        Some(text) => {
            let told = case.stands().told();
            let why = text.split_inclusive(['.', '!']).next().unwrap_or(&text).trim();
            Waits::Stopped(format!("{place}{told}. {}", inert(why)))
        }
        None => Waits::Unfinished(place + &where_it_stands(&case, &begun.reading)),
    })
}
