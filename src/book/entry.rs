//! One line of a case file.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::case::Event;

/// The format that this program writes.
pub const FORMAT: u32 = 1;

/// One event with its number and its time.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The event's place in the case, from 0.
    pub number: usize,
    /// When it was accepted.
    pub at: Timestamp,
    /// The event.
    pub event: Event,
}

/// The line as it stands in the file; field order is the file's.
#[derive(Serialize, Deserialize)]
struct Written {
    v: u32,
    seq: usize,
    at: Timestamp,
    event: serde_json::Value,
    sum: String,
}

/// What is wrong with a line.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LineFault {
    /// It is not a JSON object of the format.
    #[error("it can't be read ({0})")]
    Unreadable(String),
    /// Its checksum does not fit what it says.
    #[error("its checksum doesn't fit: it was changed or damaged")]
    Damaged,
    /// It is of a format that this program does not know.
    #[error("it is of format {0}, and this program reads format {FORMAT}")]
    OtherFormat(u32),
    /// Its event lacks something that such an event says.
    #[error("its event `{0}` doesn't say what such an event has to say")]
    Incomplete(String),
    /// Its number is not the next one.
    #[error("it has number {found} where {wanted} belongs")]
    OutOfOrder {
        /// The number that belongs there.
        wanted: usize,
        /// The number that stands there.
        found: usize,
    },
}

/// Writes an entry as one line, without the line break.
///
/// # Errors
/// Only if the event can't be written as JSON.
pub fn write_line(entry: &Entry) -> Result<String, serde_json::Error> {
    line_of(entry.number, entry.at, serde_json::to_value(&entry.event)?)
}

/// A line with its number, time and event, whatever event it is.
pub(super) fn line_of(
    number: usize,
    at: Timestamp,
    event: serde_json::Value,
) -> Result<String, serde_json::Error> {
    let sum = checksum(FORMAT, number, at, &event);
    serde_json::to_string(&Written { v: FORMAT, seq: number, at, event, sum })
}

/// Reads one line, which must carry the given number.
///
/// # Errors
/// [`LineFault`] says what is wrong with it.
pub fn read_line(line: &str, number: usize) -> Result<Entry, LineFault> {
    read_line_with(line, number).map(|(entry, _)| entry)
}

/// The same with the event as it is written.
pub(super) fn read_line_with(
    line: &str,
    number: usize,
) -> Result<(Entry, serde_json::Value), LineFault> {
    let value: serde_json::Value =
        serde_json::from_str(line).map_err(|error| LineFault::Unreadable(error.to_string()))?;
    match value.get("v").and_then(serde_json::Value::as_u64) {
        Some(v) if v == u64::from(FORMAT) => {}
        Some(v) => return Err(LineFault::OtherFormat(u32::try_from(v).unwrap_or(u32::MAX))),
        None => return Err(LineFault::Unreadable("it has no `v`".to_owned())),
    }
    let written: Written =
        serde_json::from_value(value).map_err(|error| LineFault::Unreadable(error.to_string()))?;
    if written.sum != checksum(written.v, written.seq, written.at, &written.event) {
        return Err(LineFault::Damaged);
    }
    if written.seq != number {
        return Err(LineFault::OutOfOrder { wanted: number, found: written.seq });
    }
    let what = what_happened(&written.event);
    let event =
        serde_json::from_value(written.event.clone()).map_err(|_| LineFault::Incomplete(what))?;
    Ok((Entry { number, at: written.at, event }, written.event))
}

/// The name of the event that a line holds, known to this program or not.
pub(super) fn event_name(line: &str) -> String {
    let written: Option<Written> = serde_json::from_str(line).ok();
    written.map(|written| what_happened(&written.event)).unwrap_or_default()
}

fn what_happened(event: &serde_json::Value) -> String {
    event.get("what").and_then(serde_json::Value::as_str).unwrap_or_default().to_owned()
}

/// The first 16 hexadecimal digits of the BLAKE3 hash over everything else in the line.
fn checksum(format: u32, number: usize, at: Timestamp, event: &serde_json::Value) -> String {
    let text = format!("{format} {number} {at} {event}");
    blake3::hash(text.as_bytes()).to_hex()[..16].to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::case::{Reach, Reply};

    fn entry() -> Entry {
        let reply = Reply::Quantity { si: 0.1 + 0.2, half_width: None, reach: Reach::Exact };
        Entry {
            number: 3,
            at: "2026-03-31T10:15:30Z".parse().unwrap(),
            event: Event::Answered {
                question: "blank_off".to_owned(),
                typed: "0.3 Pa".to_owned(),
                reply,
                bare_in: None,
            },
        }
    }

    #[test]
    fn a_line_reads_back_to_the_bit() {
        let line = write_line(&entry()).unwrap();
        assert_eq!(read_line(&line, 3).unwrap(), entry());
    }

    #[test]
    fn a_changed_line_is_noticed() {
        let line = write_line(&entry()).unwrap().replace("0.3 Pa", "0.4 Pa");
        assert_eq!(read_line(&line, 3), Err(LineFault::Damaged));
        let line = write_line(&entry()).unwrap();
        assert_eq!(read_line(&line, 4), Err(LineFault::OutOfOrder { wanted: 4, found: 3 }));
        let later = line.replacen("\"v\":1", "\"v\":2", 1);
        assert_eq!(read_line(&later, 3), Err(LineFault::OtherFormat(2)));
    }
}
