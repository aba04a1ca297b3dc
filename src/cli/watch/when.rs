//! When a reading was taken: now, after a time that was typed, or at a time of the day.

use jiff::tz::Offset;
use jiff::{SignedDuration, Timestamp};

use super::entry::Entry;
use crate::series::LineTime;

/// The longest elapsed time that is taken, in s: a month, beyond any hold (limit of ours).
const LONGEST: f64 = 31.0 * DAY;
const DAY: f64 = 86_400.0;

/// The moment at which something is heard, as the clock on the wall shows it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moment {
    pub at: Timestamp,
    /// Of the time zone, from UTC.
    pub offset: Offset,
}

/// What elapsed times are counted from, for the first reading.
pub(super) fn origin(time: LineTime, now: Moment) -> Option<Timestamp> {
    match time {
        LineTime::Elapsed(seconds) => after(now.at, -seconds),
        LineTime::Now => Some(whole(now.at)),
        LineTime::TimeOfDay(seconds) => of_day(seconds, now),
    }
}

/// The moment of a reading, if it can be one beside those that there are.
///
/// # Errors
/// Why not, and what to type instead.
pub(super) fn moment(
    time: LineTime,
    origin: Timestamp,
    now: Moment,
    entries: &[Entry],
) -> Result<Timestamp, String> {
    let moment = match time {
        LineTime::Now => Some(whole(now.at)),
        LineTime::Elapsed(seconds) => after(origin, seconds),
        LineTime::TimeOfDay(seconds) => of_day(seconds, now),
    };
    let Some(moment) = moment else {
        return Err("that time can't be one of this hold".to_owned());
    };
    let is_behind = entries.iter().any(|entry| entry.at > moment);
    if time == LineTime::Now && is_behind {
        return Err("the last reading has a later time than the clock; type the time before the \
                    pressure, such as `20 min 420`"
            .to_owned());
    }
    if entries.iter().any(|entry| entry.at == moment) {
        return Err(
            "there is a reading of that time already; `back` takes the last one back".to_owned()
        );
    }
    Ok(moment)
}

/// Whole milliseconds: finer ones say nothing and make the log hard to read.
fn whole(at: Timestamp) -> Timestamp {
    Timestamp::from_millisecond(at.as_millisecond()).unwrap_or(at)
}

/// So many seconds later, held to what a hold can last.
fn after(at: Timestamp, seconds: f64) -> Option<Timestamp> {
    if seconds.is_nan() || seconds.abs() > LONGEST {
        return None;
    }
    let later = SignedDuration::from_millis((seconds * 1e3).round() as i64);
    whole(at).checked_add(later).ok()
}

/// The nearest moment with that time of the day.
fn of_day(seconds: f64, now: Moment) -> Option<Timestamp> {
    let midnight = now.offset.to_datetime(now.at).date().to_datetime(jiff::civil::Time::midnight());
    let midnight = now.offset.to_timestamp(midnight).ok()?;
    let days = [-DAY, 0.0, DAY].into_iter().filter_map(|day| after(midnight, seconds + day));
    days.min_by_key(|moment| moment.duration_since(now.at).abs())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn now(text: &str) -> Moment {
        Moment { at: text.parse().unwrap(), offset: Offset::constant(2) }
    }

    #[test]
    fn a_time_of_day_is_the_nearest_one() {
        let late = now("2026-11-25T21:50:00Z");
        let minutes = |minutes: f64| of_day(60.0 * minutes, late).unwrap().to_string();
        assert_eq!(minutes(23.0 * 60.0 + 45.0), "2026-11-25T21:45:00Z", "a quarter to midnight");
        assert_eq!(minutes(5.0), "2026-11-25T22:05:00Z", "five past midnight, of tomorrow");
    }

    #[test]
    fn elapsed_times_count_from_the_first_reading() {
        let start = now("2026-11-25T10:05:00.123456Z");
        let from = origin(LineTime::Elapsed(300.0), start).unwrap();
        assert_eq!(from.to_string(), "2026-11-25T10:00:00.123Z");
        let moment = |seconds| moment(LineTime::Elapsed(seconds), from, start, &[]);
        assert_eq!(moment(600.0).unwrap().to_string(), "2026-11-25T10:10:00.123Z");
        for seconds in [1e300, f64::INFINITY, -1e9] {
            assert!(moment(seconds).is_err(), "{seconds}");
        }
    }
}
