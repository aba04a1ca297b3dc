//! A case as it is handed to somebody else: one file with its events and its handbook.
//!
//! The first line says what follows; then come the lines of the case file, and last the handbook
//! that the case was begun with, as the book keeps it. A bare case file is one, too.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::entry::{Entry, FORMAT, LineFault, line_of, read_line_with};
use super::handbooks::KeptHandbook;
use crate::case::{Event, without_names};

/// The first line.
#[derive(Serialize, Deserialize)]
struct Header {
    v: u32,
    case: String,
    lines: usize,
    without_names: bool,
    has_handbook: bool,
}

/// One event of a case with what the file says of it, which may be more than this version knows.
#[derive(Clone, Debug, PartialEq)]
pub struct HandedEvent {
    /// When it was accepted.
    pub at: Timestamp,
    /// The event.
    pub event: Event,
    /// The event as written.
    pub(super) written: serde_json::Value,
}

/// A case that is handed over.
#[derive(Clone, Debug, PartialEq)]
pub struct HandedCase {
    /// Its id in the book that it comes from.
    pub id: String,
    /// Whether names and free texts were left out.
    pub is_without_names: bool,
    /// Its events, in order.
    pub events: Vec<HandedEvent>,
    /// The handbook that it was begun with, if its book has it.
    pub handbook: Option<KeptHandbook>,
}

/// Why a file is no case that was handed over.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotHanded {
    /// It holds something else.
    #[error("it is neither a case that was exported nor a case file (line 1: {0})")]
    SomethingElse(String),
    /// It is of a later format.
    #[error("it is of format {0}, and this program reads format {FORMAT}; a newer one reads it")]
    OtherFormat(u32),
    /// A line is damaged.
    #[error("its line {line} is damaged: {fault}; have it exported and sent again")]
    Damaged {
        /// The line, from 1.
        line: usize,
        /// What is wrong with it.
        fault: LineFault,
    },
    /// Lines are missing.
    #[error(
        "it ends too early: {wanted} events were exported, and {found} are there; have it sent again"
    )]
    CutOff {
        /// How many lines of events there were.
        wanted: usize,
        /// How many are there.
        found: usize,
    },
    /// The handbook is missing or damaged.
    #[error("the handbook in it is damaged or cut off ({0}); have it exported and sent again")]
    Handbook(String),
}

impl HandedCase {
    /// A case from the bytes of its file, as far as its lines are good.
    #[must_use]
    pub fn of_file(id: &str, bytes: &[u8], handbook: Option<KeptHandbook>) -> Self {
        let text = String::from_utf8_lossy(bytes);
        let mut events = Vec::new();
        for line in text.split_inclusive('\n') {
            let whole = line.strip_suffix('\n');
            let Some(Ok(event)) = whole.map(|line| event_of(line, events.len())) else { break };
            events.push(event);
        }
        Self { id: id.to_owned(), is_without_names: false, events, handbook }
    }

    /// The same without names, places and free texts, see [`without_names`].
    ///
    /// # Errors
    /// Only if an event can't be written as JSON.
    pub fn without_names(self) -> Result<Self, serde_json::Error> {
        let all: Vec<Event> = self.events.iter().map(|handed| handed.event.clone()).collect();
        let nameless = self.events.iter().zip(without_names(&all));
        let events = nameless.map(|(handed, event)| HandedEvent::new(handed.at, event));
        Ok(Self { is_without_names: true, events: events.collect::<Result<_, _>>()?, ..self })
    }

    /// The file.
    ///
    /// # Errors
    /// Only if an event or the handbook can't be written as JSON.
    pub fn write(&self) -> Result<String, serde_json::Error> {
        let header = Header {
            v: FORMAT,
            case: self.id.clone(),
            lines: self.events.len(),
            without_names: self.is_without_names,
            has_handbook: self.handbook.is_some(),
        };
        let mut text = serde_json::to_string(&header)? + "\n" + &lines(&self.events, 0)?;
        if let Some(handbook) = &self.handbook {
            text += &(serde_json::to_string(handbook)? + "\n");
        }
        Ok(text)
    }

    /// Reads a file that [`write`](Self::write) gave, or a case file, whose id is then `name`.
    ///
    /// # Errors
    /// [`NotHanded`] says what is wrong with it. Nothing of a damaged one is taken: whoever has
    /// the case can send it again.
    pub fn read(name: &str, text: &str) -> Result<Self, NotHanded> {
        let mut lines = text.lines().enumerate().map(|(place, line)| (place + 1, line)).peekable();
        let first = lines.peek().map_or("", |(_, line)| line);
        let header = match (serde_json::from_str::<Header>(first), event_of(first, 0)) {
            (Ok(header), _) if header.v != FORMAT => return Err(NotHanded::OtherFormat(header.v)),
            (Ok(header), _) => Some(header),
            (Err(_), Ok(_)) => None,
            (Err(_), Err(LineFault::OtherFormat(v))) => return Err(NotHanded::OtherFormat(v)),
            (Err(_), Err(fault)) => return Err(NotHanded::SomethingElse(fault.to_string())),
        };
        if header.is_some() {
            lines.next();
        }
        let wanted = header.as_ref().map_or(usize::MAX, |header| header.lines);
        let mut events = Vec::new();
        for (line, text) in lines.by_ref().take(wanted) {
            let event = event_of(text, events.len());
            events.push(event.map_err(|fault| NotHanded::Damaged { line, fault })?);
        }
        let Some(header) = header else {
            let id = name.to_owned();
            return Ok(Self { id, is_without_names: false, events, handbook: None });
        };
        if events.len() < wanted {
            return Err(NotHanded::CutOff { wanted, found: events.len() });
        }
        let handbook = header.has_handbook.then(|| lines.next().map_or("", |(_, line)| line));
        let handbook = handbook.map(serde_json::from_str::<KeptHandbook>).transpose();
        Ok(Self {
            id: header.case,
            is_without_names: header.without_names,
            events,
            handbook: handbook.map_err(|error| NotHanded::Handbook(error.to_string()))?,
        })
    }
}

impl HandedEvent {
    /// An event of this program.
    pub(super) fn new(at: Timestamp, event: Event) -> Result<Self, serde_json::Error> {
        let written = serde_json::to_value(&event)?;
        Ok(Self { at, event, written })
    }
}

fn event_of(line: &str, number: usize) -> Result<HandedEvent, LineFault> {
    let (Entry { at, event, .. }, written) = read_line_with(line, number)?;
    Ok(HandedEvent { at, event, written })
}

/// The lines of a case file, the first of which has this number.
pub(super) fn lines(events: &[HandedEvent], first: usize) -> Result<String, serde_json::Error> {
    let mut text = String::new();
    for (place, handed) in events.iter().enumerate() {
        text += &line_of(first + place, handed.at, handed.written.clone())?;
        text.push('\n');
    }
    Ok(text)
}

#[cfg(test)]
mod tests;
