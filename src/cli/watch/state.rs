//! The watch itself: something is heard, and there is an effect. It knows no clock and no file.

use jiff::Timestamp;

use super::doubt::{Doubt, doubted};
use super::entry::{Entry, cell, heading};
use super::look::Look;
use super::refusal::reading_of;
use super::when::{Moment, moment, origin};
use crate::cli::rise::Wanted;
use crate::quantity::UnitExpression;
use crate::rise::criterion::Criterion;
use crate::rise::stopping;

/// Up to so many readings there is a look at each one. Beyond, a look waits until the hold has
/// become longer by [`LONGER`] (limits of ours: nobody sees the difference, and a fast logger
/// is not held up).
const EACH: usize = 2000;
const LONGER: f64 = 1.002;

/// What the watch hears.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Heard {
    /// A line, at some moment.
    Line(String),
    /// What was asked to be kept, or to be taken back, is on the disk.
    Done,
    /// The input ended.
    End,
    /// Ctrl-C.
    Interrupt,
}

/// What is to be done about it.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Effect {
    /// Keep the entry, then let [`Heard::Done`] be heard: only then it counts.
    Keep(Entry),
    /// Take the last entry back, then let [`Heard::Done`] be heard.
    TakeBack,
    /// A reading counts now; whether there was a new look. What is odd about it
    /// is told where nobody could be asked.
    Counted { is_looked_at: bool, remark: Option<String> },
    /// The last reading counts no more.
    TakenBack,
    /// The line can't be used, and stays for correction.
    Refused(String),
    /// The line looks like a slip; what to type to settle that.
    Doubted(String),
    /// Show what can be typed.
    Help,
    /// Show why, in full.
    Why,
    /// Nothing was typed.
    Nothing,
    /// Leave, whether by an interrupt or not.
    Leave { is_interrupted: bool },
}

/// A change that waits for the disk.
#[derive(Clone, Debug, PartialEq)]
enum Pending {
    Keep { entry: Entry, remark: Option<String> },
    TakeBack,
}

/// Readings of a hold, as they come.
pub(super) struct Watch<'a> {
    wanted: &'a Wanted,
    /// The unit of the log's column.
    column: UnitExpression,
    /// The unit of a bare number.
    unit: UnitExpression,
    /// Whether somebody is there to be asked about a doubtful reading.
    is_answered: bool,
    entries: Vec<Entry>,
    /// Whether there was a look at the reading of this place; none is due to a mark.
    looked_at: Vec<bool>,
    counted_from: Option<Timestamp>,
    pending: Option<Pending>,
    doubt: Option<Doubt>,
    standing: stopping::Watch,
    look: Look,
}

impl<'a> Watch<'a> {
    /// A watch without readings, whose log has a column in `column`; a bare number is in `unit`.
    pub fn new(
        wanted: &'a Wanted,
        column: UnitExpression,
        unit: UnitExpression,
        is_answered: bool,
    ) -> Self {
        let look = Look::at(&heading(&column), &[], wanted);
        Self {
            wanted,
            column,
            unit,
            is_answered,
            entries: Vec::new(),
            looked_at: Vec::new(),
            counted_from: None,
            pending: None,
            doubt: None,
            standing: stopping::Watch::default(),
            look,
        }
    }

    /// Takes in readings that were kept before.
    pub fn take_up(&mut self, entries: Vec<Entry>) {
        for entry in entries {
            self.count_in(entry);
        }
    }

    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// What the readings say so far.
    pub fn look(&self) -> &Look {
        &self.look
    }

    /// The written criterion that is asked for.
    pub fn criterion(&self) -> Option<Criterion> {
        self.wanted.criterion
    }

    /// The unit of a bare number.
    pub fn unit(&self) -> &UnitExpression {
        &self.unit
    }

    /// The log's heading and rows.
    pub fn log(&self) -> String {
        let rows: String = self.entries.iter().map(Entry::lines).collect();
        heading(&self.column) + &rows
    }

    /// Hears something, and says what to do about it.
    pub fn hear(&mut self, heard: Heard, now: Moment) -> Effect {
        match heard {
            Heard::Line(text) => self.line(text.trim(), now),
            Heard::Done => self.done(),
            Heard::End => Effect::Leave { is_interrupted: false },
            Heard::Interrupt => Effect::Leave { is_interrupted: true },
        }
    }

    fn line(&mut self, text: &str, now: Moment) -> Effect {
        let word = text.to_lowercase();
        if let Some(doubt) = self.doubt.take() {
            match doubt.settled_by(&word) {
                Some(entry) => return self.keep(entry, None),
                None if word.is_empty() => {
                    let message = doubt.message.clone();
                    self.doubt = Some(doubt);
                    return Effect::Doubted(message);
                }
                None => {}
            }
        }
        match word.as_str() {
            "" => Effect::Nothing,
            "done" | "stop" | "quit" | "exit" => Effect::Leave { is_interrupted: false },
            "help" | "?" => Effect::Help,
            "why" | "why?" => Effect::Why,
            "back" => self.take_back(),
            _ if text.starts_with('#') => Effect::Nothing,
            _ => self.reading(text, now),
        }
    }

    fn take_back(&mut self) -> Effect {
        if self.entries.is_empty() {
            return Effect::Refused("there is no reading to take back".to_owned());
        }
        self.pending = Some(Pending::TakeBack);
        Effect::TakeBack
    }

    fn reading(&mut self, text: &str, now: Moment) -> Effect {
        let live = match reading_of(text, &self.unit) {
            Ok(live) => live,
            Err(why) => return Effect::Refused(why),
        };
        let from = match self.counted_from {
            Some(from) => Some(from),
            None => origin(live.time, now),
        };
        let at = match from {
            Some(from) => moment(live.time, from, now, &self.entries),
            None => Err("that time can't be one of this hold".to_owned()),
        };
        let at = match at {
            Ok(at) => at,
            Err(why) => return Effect::Refused(why),
        };
        let is_bare = live.is_in_unit && self.unit == self.column;
        let cell = cell(live.pressure, &self.column, is_bare);
        let counted_from = from.filter(|_| self.counted_from.is_none());
        let entry = Entry { at, pressure: live.pressure, cell, counted_from };
        let unit = if live.is_in_unit { Some(&self.unit) } else { None };
        let doubt = doubted(&entry, unit, &self.column, self.before(at));
        match doubt {
            Some(doubt) if self.is_answered => {
                let message = doubt.message.clone();
                self.doubt = Some(doubt);
                Effect::Doubted(message)
            }
            doubt => self.keep(entry, doubt.map(|doubt| doubt.odd)),
        }
    }

    /// The last pressure in Pa before that moment.
    fn before(&self, at: Timestamp) -> Option<f64> {
        let earlier = self.entries.iter().filter(|entry| entry.at < at && entry.pressure.is_ok());
        earlier.max_by_key(|entry| entry.at)?.pressure.ok()
    }

    fn keep(&mut self, entry: Entry, remark: Option<String>) -> Effect {
        self.pending = Some(Pending::Keep { entry: entry.clone(), remark });
        Effect::Keep(entry)
    }

    fn done(&mut self) -> Effect {
        match self.pending.take() {
            Some(Pending::Keep { entry, remark }) => {
                Effect::Counted { is_looked_at: self.count_in(entry), remark }
            }
            Some(Pending::TakeBack) => {
                self.count_out();
                Effect::TakenBack
            }
            None => Effect::Nothing,
        }
    }

    /// Lets an entry count; whether there was a look at it.
    fn count_in(&mut self, entry: Entry) -> bool {
        self.counted_from = self.counted_from.or(entry.counted_from).or(Some(entry.at));
        // A mark off the scale is no pressure, so that no answer has stood any longer by it.
        let is_reading = entry.pressure.is_ok();
        self.entries.push(entry);
        let first = self.entries.iter().map(|entry| entry.at).min();
        let last = self.entries.iter().map(|entry| entry.at).max();
        let seconds = match (first, last) {
            (Some(first), Some(last)) => last.duration_since(first).as_secs_f64(),
            _ => 0.0,
        };
        let is_looked_at = self.entries.len() <= EACH || seconds >= self.look.duration() * LONGER;
        self.looked_at.push(is_looked_at && is_reading);
        if is_looked_at {
            self.look = Look::at(&heading(&self.column), &self.entries, self.wanted);
            let reading = self.look.reading.as_ref().ok();
            self.look.standing = if is_reading {
                self.standing.look(self.look.duration(), reading)
            } else {
                self.standing.standing()
            };
        }
        is_looked_at
    }

    fn count_out(&mut self) {
        self.entries.pop();
        if self.looked_at.pop() == Some(true) {
            self.standing.take_back();
        }
        if self.entries.is_empty() {
            self.counted_from = None;
        }
        self.look = Look::at(&heading(&self.column), &self.entries, self.wanted);
        self.look.standing = self.standing.standing();
    }
}

#[cfg(test)]
mod tests;
