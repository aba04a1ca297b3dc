//! Two ways in which one case went on, put together.
//!
//! Both hold the same events up to where they parted. Every event of both is kept, in the order of
//! their times; where they contradict each other, what is not to count is taken back at the end.

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::handed::HandedEvent;
use crate::case::{Detail, Details, Event, without_names};

/// How a case that is handed over stands to one of the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    /// They are two cases.
    Another,
    /// The book's holds all of it.
    Known,
    /// It goes on where the book's ends, with the event of this number.
    GoesOn(usize),
    /// The book's is a copy without names of what was handed over.
    LacksNames {
        /// The first event that differs, by its number.
        first: usize,
        /// How many differ.
        differing: usize,
    },
    /// Both went on, each by itself, from the event of this number.
    Parted(usize),
}

/// How a case that is handed over stands to one of the book. A case is the same if it was opened
/// at the same moment in the same way; its copy without names tells the same.
#[must_use]
pub fn beside(here: &[HandedEvent], there: &[HandedEvent]) -> Beside {
    let same = here.iter().zip(there).take_while(|(a, b)| a == b).count();
    if same == 0 {
        return Beside::Another;
    }
    let known = same.max(told_without_names(here, there));
    if known == there.len() {
        Beside::Known
    } else if known == here.len() {
        Beside::GoesOn(known)
    } else if told_without_names(there, here) == here.len() {
        let differs = |(a, b): &(&HandedEvent, &HandedEvent)| a != b;
        Beside::LacksNames {
            first: same,
            differing: here.iter().zip(there).filter(differs).count(),
        }
    } else {
        Beside::Parted(same)
    }
}

/// How many events from the first on a copy has as they are or without their names.
fn told_without_names(whole: &[HandedEvent], copy: &[HandedEvent]) -> usize {
    let events: Vec<Event> = whole.iter().map(|handed| handed.event.clone()).collect();
    let nameless = without_names(&events);
    let pairs = whole.iter().zip(&nameless).zip(copy);
    pairs
        .take_while(|((whole, nameless), copy)| {
            whole == copy || whole.at == copy.at && **nameless == copy.event
        })
        .count()
}

/// Whose word counts where two contradict each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Prefer {
    /// That of the book's own case.
    Here,
    /// That of the one that was handed over.
    There,
    /// Both: answers count as measured one after the other, of anything else the later.
    Both,
}

/// Two events that contradict each other, each by its number in its own case.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clash {
    /// The one of the book's case.
    pub here: usize,
    /// The one that was handed over.
    pub there: usize,
}

/// What two events have to agree on, if both are about it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum About<'e> {
    Question(&'e str),
    Answer(usize),
    Closing,
    Detail(Detail),
}

fn about(event: &Event, parted: usize) -> Vec<About<'_>> {
    match event {
        Event::Answered { question, .. } => vec![About::Question(question)],
        Event::Corrected { answer: order, .. } | Event::TakenBack { order } if *order < parted => {
            vec![About::Answer(*order)]
        }
        Event::Closed { .. } => vec![About::Closing],
        Event::Described { details } => {
            let given = Detail::all().into_iter().filter(|detail| details.get(*detail).is_some());
            given.map(About::Detail).collect()
        }
        _ => Vec::new(),
    }
}

/// The last word of one side on each matter.
fn last_words(events: &[HandedEvent], parted: usize) -> BTreeMap<About<'_>, usize> {
    let numbered = events.iter().enumerate().skip(parted);
    let said = numbered.map(|(number, handed)| (about(&handed.event, parted), number));
    said.flat_map(|(all, number)| all.into_iter().map(move |about| (about, number))).collect()
}

/// A matter that both speak of.
struct Pair<'e> {
    about: About<'e>,
    numbers: Clash,
    here: &'e Event,
    there: &'e Event,
}

fn pairs<'e>(
    here: &'e [HandedEvent],
    there: &'e [HandedEvent],
    parted: usize,
) -> impl Iterator<Item = Pair<'e>> {
    let theirs = last_words(there, parted);
    last_words(here, parted).into_iter().filter_map(move |(about, mine)| {
        let numbers = Clash { here: mine, there: *theirs.get(&about)? };
        let (here, there) = (&here[numbers.here].event, &there[numbers.there].event);
        Some(Pair { about, numbers, here, there })
    })
}

impl Pair<'_> {
    fn agrees(&self) -> bool {
        match (self.here, self.there) {
            (Event::Answered { reply: a, .. }, Event::Answered { reply: b, .. })
            | (Event::Corrected { reply: a, .. }, Event::Corrected { reply: b, .. }) => a == b,
            (Event::Closed { closing: a }, Event::Closed { closing: b }) => {
                a.fixed_by == b.fixed_by && a.proved == b.proved
            }
            (Event::Described { details: a }, Event::Described { details: b }) => {
                matches!(self.about, About::Detail(detail) if a.get(detail) == b.get(detail))
            }
            (mine, theirs) => mine == theirs,
        }
    }

    /// An event of the two that is said again, so that it counts.
    fn again(&self, event: &Event) -> Event {
        match (event, self.about) {
            (Event::Described { details }, About::Detail(detail)) => {
                let text = details.get(detail).unwrap_or_default();
                Event::Described { details: Details::default().with(detail, text) }
            }
            _ => event.clone(),
        }
    }
}

/// Where the two contradict each other, each pair of events once.
#[must_use]
pub fn clashes(here: &[HandedEvent], there: &[HandedEvent], parted: usize) -> Vec<Clash> {
    let clashing = pairs(here, there, parted).filter(|pair| !pair.agrees());
    let mut clashes: Vec<Clash> = clashing.map(|pair| pair.numbers).collect();
    clashes.sort_by_key(|clash| (clash.here, clash.there));
    clashes.dedup();
    clashes
}

/// Every event of both by time, and behind them at the time `now` what settles their clashes.
///
/// # Errors
/// Only if an event can't be written as JSON.
pub fn joined(
    here: &[HandedEvent],
    there: &[HandedEvent],
    parted: usize,
    prefer: Prefer,
    now: Timestamp,
) -> Result<Vec<HandedEvent>, serde_json::Error> {
    let mut places = Places::default();
    let (mut mine, mut theirs) = (parted, parted);
    let mut all: Vec<HandedEvent> = here[..parted].to_vec();
    loop {
        let takes_mine = match (here.get(mine), there.get(theirs)) {
            (Some(a), Some(b)) => a.at <= b.at,
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => break,
        };
        let (next, places, number) = if takes_mine {
            (here, &mut places.here, &mut mine)
        } else {
            (there, &mut places.there, &mut theirs)
        };
        places.insert(*number, all.len());
        all.push(moved(&next[*number], places, parted)?);
        *number += 1;
    }
    let settled = pairs(here, there, parted).filter_map(|pair| settling(&pair, prefer, &places));
    for event in settled {
        all.push(HandedEvent::new(now, event)?);
    }
    Ok(all)
}

/// Where the events of each side came to stand.
#[derive(Default)]
struct Places {
    here: BTreeMap<usize, usize>,
    there: BTreeMap<usize, usize>,
}

/// The event in its new place; it names another by its place.
fn moved(
    handed: &HandedEvent,
    places: &BTreeMap<usize, usize>,
    parted: usize,
) -> Result<HandedEvent, serde_json::Error> {
    let mut event = handed.event.clone();
    if let Event::Corrected { answer: order, .. } | Event::TakenBack { order } = &mut event
        && *order >= parted
    {
        *order = places.get(order).copied().unwrap_or(*order);
        return HandedEvent::new(handed.at, event);
    }
    Ok(handed.clone())
}

/// What makes one of two count.
fn settling(pair: &Pair<'_>, prefer: Prefer, places: &Places) -> Option<Event> {
    let is_answer = matches!(pair.about, About::Question(_));
    let take_back = |order: Option<&usize>| order.map(|&order| Event::TakenBack { order });
    let take_mine_back = || take_back(places.here.get(&pair.numbers.here));
    let take_theirs_back = || take_back(places.there.get(&pair.numbers.there));
    match (pair.agrees(), prefer) {
        // The same answer of both is one measurement.
        (true, _) if is_answer => take_theirs_back(),
        (true, _) | (false, Prefer::Both) => None,
        (false, Prefer::Here) if is_answer => take_theirs_back(),
        (false, Prefer::There) if is_answer => take_mine_back(),
        (false, Prefer::Here) => Some(pair.again(pair.here)),
        (false, Prefer::There) => Some(pair.again(pair.there)),
    }
}

#[cfg(test)]
mod tests;
