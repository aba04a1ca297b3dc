//! What cases amount to, each in the handbook that it was begun with.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use crate::book::{Book, CaseFile, Judged, Named, Outcome, Reading, Row, Told, read_journal};
use crate::case::{Case, Event, Stands};
use crate::cli::close::cause_name;
use crate::cli::resume::begun_with;
use crate::evidence::wording::{Likelihood, word};
use crate::evidence::{Engine, Proof, Ranked};
use crate::handbook::Handbook;

/// A handbook, ready to judge.
struct Judge {
    handbook: Handbook,
    engine: Engine,
}

/// The handbooks that judge a book's cases, each made once.
pub(super) struct Judges<'a> {
    book: &'a Book,
    today: &'a Handbook,
    engine: &'a Engine,
    others: Mutex<HashMap<String, Option<Arc<Judge>>>>,
}

impl<'a> Judges<'a> {
    pub fn new(book: &'a Book, today: &'a Handbook, engine: &'a Engine) -> Self {
        Self { book, today, engine, others: Mutex::default() }
    }

    /// The row of a case file as it is now.
    pub fn row(&self, file: &CaseFile) -> Row {
        let mut row = Row::before_reading(&file.id, &file.path);
        match read_journal(&file.path) {
            Ok(reading) => {
                row.told = Told::of(&reading);
                self.judge(&reading, &mut row);
            }
            Err(error) => row.told.notices = vec![error.to_string()],
        }
        row
    }

    fn judge(&self, reading: &Reading, row: &mut Row) {
        let events: Vec<Event> = reading.entries.iter().map(|entry| entry.event.clone()).collect();
        let own = self.own(&events);
        let (handbook, engine) = match &own {
            Some(own) => (&own.handbook, &own.engine),
            None => (self.today, self.engine),
        };
        let closing = row.told.closing.as_ref();
        row.told.fixed = closing.and_then(|closing| cause_name(handbook, &closing.fixed_by));
        let (outcome, work) = match Case::replay(handbook, engine, &events) {
            Ok(case) => (outcome(&case), case.work_closed()),
            Err(refusal) => (Outcome::NotJudged(refusal.to_string()), None),
        };
        row.judged = Judged { by: handbook.hash().to_owned(), outcome, work };
    }

    /// The handbook that a case was begun with, where it is another than today's and can be had.
    fn own(&self, events: &[Event]) -> Option<Arc<Judge>> {
        let Some(Event::Opened { handbook: hash, .. }) = events.first() else { return None };
        if hash == self.today.hash() {
            return None;
        }
        // Held while it is compiled, so that no two threads do the same.
        let mut others = self.others.lock().unwrap_or_else(PoisonError::into_inner);
        let made = || {
            let handbook = begun_with(self.book, self.today, events)?.ok()?.handbook;
            let engine = Engine::new(&handbook).ok()?;
            Some(Arc::new(Judge { handbook, engine }))
        };
        others.entry(hash.clone()).or_insert_with(made).clone()
    }
}

fn outcome(case: &Case<'_>) -> Outcome {
    match case.stands() {
        // A danger stands alone: what the readings say would only draw away from it.
        Stands::Stopped => Outcome::Stopped { is_in_danger: true, so_far: None },
        Stands::Unacknowledged => {
            let is_known = case.assessment().has_evidence;
            let so_far = is_known.then(|| Box::new(found(case)));
            Outcome::Stopped { is_in_danger: false, so_far }
        }
        Stands::AtItsEnd(_) | Stands::Open => found(case),
    }
}

/// What the answers say.
fn found(case: &Case<'_>) -> Outcome {
    let assessment = case.assessment();
    let led =
        |cause, name, probability| Outcome::Led { cause, name, probability, mended: mended(case) };
    match assessment.leader() {
        _ if !assessment.has_evidence => Outcome::NoEvidence,
        // Beside readings that can't all be nothing leads, and least of all that nothing is wrong.
        _ if assessment.contradicts_itself || !assessment.disputed.is_empty() => {
            Outcome::Contradiction
        }
        _ if case.owed().is_some() => not_read_again(case),
        Some(leader) if !assessment.nothing_leads() => {
            let view = case.cause_view(leader.cause);
            led(Some(view.id), view.in_short, leader.probability)
        }
        _ => led(None, "nothing wrong".to_owned(), assessment.nothing_wrong),
    }
}

/// A repair that waits for its reading.
fn not_read_again(case: &Case<'_>) -> Outcome {
    case.owed().map_or(Outcome::NoEvidence, |owed| {
        let view = case.cause_view(owed.cause);
        Outcome::NotReadAgain(Named { cause: view.id, name: view.in_short })
    })
}

/// What was likely there at first, and by what was read after its repair no more.
fn mended(case: &Case<'_>) -> Vec<Named> {
    let assessment = case.assessment();
    let is_mended = |(was, proof): &(&Ranked, Proof)| {
        let now = assessment.probability(was.cause);
        *proof == Proof::Passed
            && word(was.probability) >= Likelihood::Likely
            && word(now) <= Likelihood::VeryUnlikely
    };
    let mended = assessment.repaired().filter(is_mended);
    mended
        .map(|(was, _)| {
            let view = case.cause_view(was.cause);
            Named { cause: view.id, name: view.in_short }
        })
        .collect()
}
