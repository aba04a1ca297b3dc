//! Readings typed one by one while a hold runs.
//!
//! Either each line tells its time, or the clock does, or an interval told beforehand; a list of
//! several of these could be put in no order.

use std::time::Duration;

use crate::case::{Event, LineTime, Misunderstood, Question, read_reading};
use crate::quantity::{Slip, UnitExpression};
use crate::terminal::clock::spoken;

/// Bare readings nearer to each other than this were not read from a gauge but pasted (limit of
/// ours: nobody types that fast).
const FASTEST: Duration = Duration::from_secs(2);

/// Times that differ by less than this share of what lies between them are even (`estimate`).
const EVEN: f64 = 0.02;

/// The readings typed so far.
#[derive(Debug, Default)]
pub(super) struct Dictation {
    lines: Vec<String>,
    /// When each was typed, if the clock tells the times.
    clocked: Vec<Duration>,
    /// How far apart they come, in s, if that was told before the first of them.
    every: Option<f64>,
}

/// A reading that may be taken.
pub(super) struct Taken {
    line: String,
    at: Option<Duration>,
    /// How it was understood.
    pub echo: String,
    /// What is odd about it.
    pub slip: Option<Slip>,
}

impl Dictation {
    /// The readings that a note of these events kept for a question, if it has had no answer since.
    pub fn of_notes(question: &str, events: &[Event]) -> Self {
        let start = begins(question);
        let kept = events.iter().rev().find_map(|event| match event {
            Event::Noted { text } => text.strip_prefix(&start).map(Some),
            Event::Answered { question: answered, .. } if answered == question => Some(None),
            _ => None,
        });
        let lines = kept.flatten().map(|lines| lines.split("; ").map(str::to_owned).collect());
        Self { lines: lines.unwrap_or_default(), ..Self::default() }
    }

    /// A note of the readings so far.
    pub fn note(&self, question: &str) -> String {
        begins(question) + &self.lines.join("; ")
    }

    /// Reads a line that was typed at a time of the clock; nothing is taken yet.
    pub fn read(
        &self,
        (question, face): (&Question, Option<&UnitExpression>),
        typed: &str,
        now: Duration,
    ) -> Result<Taken, Misunderstood> {
        let (live, slip) = read_reading(question, face, typed)?;
        let number = self.lines.len() + 1;
        let typed = typed.trim();
        if let Some(every) = self.every {
            return match live.time {
                LineTime::Now => Ok(self.at_interval(every, typed, slip)),
                _ => Err(refused("the interval tells the times; type the reading alone")),
            };
        }
        if live.time != LineTime::Now {
            if !self.clocked.is_empty() {
                return Err(refused("the others were timed by the clock; type the reading alone"));
            }
            let (line, echo) = (typed.to_owned(), format!("Reading {number}: {typed}"));
            return Ok(Taken { line, at: None, echo, slip });
        }
        if self.clocked.is_empty() && !self.lines.is_empty() {
            return Err(refused("the others have times; give this one too, as in `5 min 420`"));
        }
        if let Some(last) = self.clocked.last()
            && now.saturating_sub(*last) < FASTEST
        {
            return Err(refused(
                "two readings at once have no times; type a list as `0 min 300, 5 min 420` or \
                 `300, 420 micron every 5 min`",
            ));
        }
        let since = now.saturating_sub(self.clocked.first().copied().unwrap_or(now));
        let line = format!("{} s {typed}", since.as_secs());
        let echo = format!("Reading {number}, after {}: {typed}", spoken(since));
        Ok(Taken { line, at: Some(now), echo, slip })
    }

    /// The readings to come are this long apart, in s.
    pub fn come_every(&mut self, seconds: f64) {
        self.every = Some(seconds);
    }

    fn at_interval(&self, every: f64, typed: &str, slip: Option<Slip>) -> Taken {
        let before = u32::try_from(self.lines.len()).unwrap_or(u32::MAX);
        let since = f64::from(before) * every;
        let after = spoken(Duration::try_from_secs_f64(since).unwrap_or_default());
        let echo = format!("Reading {}, after {after}: {typed}", self.lines.len() + 1);
        Taken { line: format!("{since} s {typed}"), at: None, echo, slip }
    }

    /// A bare reading behind ones that told their times and came evenly, with its time as the next of
    /// them; the first alone counts from the start. None where the others weren't even, or it is none.
    pub fn evenly_next(
        &self,
        read: (&Question, Option<&UnitExpression>),
        typed: &str,
    ) -> Option<(String, String)> {
        if !self.clocked.is_empty() || self.every.is_some() {
            return None;
        }
        let time = |line: &str| match read_reading(read.0, read.1, line).ok()?.0.time {
            LineTime::Elapsed(seconds) => Some(seconds),
            _ => None,
        };
        let (bare, _) = read_reading(read.0, read.1, typed).ok()?;
        let times: Vec<f64> = self.lines.iter().map(|line| time(line)).collect::<Option<_>>()?;
        let last = *times.last().filter(|_| bare.time == LineTime::Now)?;
        let before = times.len().checked_sub(2).map_or(0.0, |at| times[at]);
        let apart = last - before;
        let is_even = |pair: &[f64]| (pair[1] - pair[0] - apart).abs() < EVEN * apart;
        if apart <= 0.0 || !times.windows(2).all(is_even) {
            return None;
        }
        let at = last + apart;
        let line = format!("{at} s {}", typed.trim());
        Some((line, spoken(Duration::try_from_secs_f64(at).unwrap_or_default())))
    }

    /// Takes a reading that tells its time.
    pub fn take_line(&mut self, line: String) {
        self.lines.push(line);
    }

    /// The same as it was read.
    pub fn take(&mut self, taken: Taken) {
        self.lines.push(taken.line);
        self.clocked.extend(taken.at);
    }

    /// Takes the last reading back; gives it as it was kept.
    pub fn take_back(&mut self) -> Option<String> {
        self.clocked.pop();
        self.lines.pop()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.lines.len()
    }

    /// All of them, and a list of more; none where one has no time, or the first begins anew.
    pub fn gone_on(
        &self,
        (question, face): (&Question, Option<&UnitExpression>),
        list: &str,
    ) -> Option<String> {
        let more: Vec<&str> = list.split([',', ';']).map(str::trim).collect();
        let time = |line: &&str| read_reading(question, face, line).ok().map(|(live, _)| live.time);
        let begins_anew = more.first().and_then(time) == Some(LineTime::Elapsed(0.0));
        let is_timed = |line: &&str| time(line).is_some_and(|time| time != LineTime::Now);
        (!begins_anew && more.iter().all(is_timed))
            .then(|| format!("{}\n{}", self.block(), more.join("\n")))
    }

    /// The first one, and a list of more that come evenly after it, with their interval:
    /// `430, 455 micron every 5 min`. None for a list that begins with the first one anew.
    pub fn gone_on_evenly(&self, list: &str) -> Option<String> {
        let [first] = self.lines.as_slice() else { return None };
        let (_, reading) = first.split_once(" s ")?;
        let number = reading.split_whitespace().next()?;
        let begins_anew = list.split([',', ' ']).next() == Some(number);
        (!begins_anew).then(|| format!("{reading}, {list}"))
    }

    /// All of them as an answer.
    pub fn block(&self) -> String {
        self.lines.join("\n")
    }
}

fn begins(question: &str) -> String {
    format!("{question}, read so far: ")
}

fn refused(message: &str) -> Misunderstood {
    Misunderstood { message: message.to_owned() }
}
