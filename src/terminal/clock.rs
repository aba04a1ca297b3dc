//! The time that waits go by.

use std::time::{Duration, Instant, SystemTime};

use jiff::Timestamp;
use jiff::tz::TimeZone;

/// A clock that only runs forward.
pub trait Clock {
    /// The time since some fixed moment.
    fn now(&self) -> Duration;
}

/// The clock of this machine, from the moment it was made.
#[derive(Clone, Copy, Debug)]
pub struct SystemClock {
    start: Instant,
}

impl SystemClock {
    /// A clock that starts at zero.
    #[must_use]
    pub fn new() -> Self {
        Self { start: Instant::now() }
    }
}

impl Default for SystemClock {
    fn default() -> Self {
        Self::new()
    }
}

impl Clock for SystemClock {
    fn now(&self) -> Duration {
        self.start.elapsed()
    }
}

/// A length of time for people: `45 s`, `2 min 05 s`, `1 h 20 min`; whole seconds, rounded down.
#[must_use]
pub fn spoken(length: Duration) -> String {
    let seconds = length.as_secs();
    let (hours, minutes, rest) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    match (hours, minutes, rest) {
        (0, 0, _) => format!("{rest} s"),
        (0, _, 0) => format!("{minutes} min"),
        (0, _, _) => format!("{minutes} min {rest:02} s"),
        (_, 0, _) => format!("{hours} h"),
        (_, _, _) => format!("{hours} h {minutes:02} min"),
    }
}

/// The time of day after so long from now, as a clock on the wall shows it: `14:35`.
#[must_use]
pub fn time_of_day(from_now: Duration) -> String {
    // A minute that has begun is not over yet.
    let until = from_now.saturating_add(Duration::from_secs(59));
    let end = SystemTime::now().checked_add(until);
    let at = end.and_then(|end| Timestamp::try_from(end).ok()).unwrap_or_default();
    TimeZone::system().to_datetime(at).strftime("%H:%M").to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_spoken_as_people_say_them() {
        let spoken = |seconds| spoken(Duration::from_secs(seconds));
        assert_eq!(spoken(0), "0 s");
        assert_eq!(spoken(59), "59 s");
        assert_eq!(spoken(120), "2 min");
        assert_eq!(spoken(125), "2 min 05 s");
        assert_eq!(spoken(3600), "1 h");
        assert_eq!(spoken(4805), "1 h 20 min");
    }

    #[test]
    fn the_system_clock_runs_forward() {
        let clock = SystemClock::new();
        let first = clock.now();
        assert!(clock.now() >= first);
    }
}
