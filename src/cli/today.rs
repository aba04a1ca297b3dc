//! The day on the wall, by which cases are named.

use std::path::Path;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::{Offset, TimeZone};

/// Where Unix systems keep the rules of their own time zone (common practice).
const ZONE_FILE: &str = "/etc/localtime";

/// Today's date in the system's time zone.
pub(super) fn today() -> Date {
    system_zone().to_datetime(Timestamp::now()).date()
}

/// A day as it was told: `2026-03-31`, `today`, `yesterday`, or `7 days ago`.
///
/// # Errors
/// What may be told instead.
pub(super) fn day_told(told: &str) -> Result<Date, String> {
    day_before(told, today())
        .ok_or_else(|| "a day is told as 2026-03-31, today, yesterday, or 7 days ago".to_owned())
}

fn day_before(told: &str, today: Date) -> Option<Date> {
    let told = told.trim().to_lowercase();
    let days: i64 = match told.as_str() {
        "today" => 0,
        "yesterday" => 1,
        other => match other.strip_suffix(" ago").map(str::trim_end) {
            Some(span) => {
                let number = span.strip_suffix("days").or_else(|| span.strip_suffix("day"))?;
                number.trim_end().parse().ok()?
            }
            None => return other.parse().ok(),
        },
    };
    let is_before = |days: &i64| *days >= 0;
    today.checked_sub(jiff::Span::new().try_days(Some(days).filter(is_before)?).ok()?).ok()
}

/// How far the clocks of the system's time zone are from UTC at that moment.
pub(super) fn offset(at: Timestamp) -> Offset {
    system_zone().to_offset(at)
}

/// The system's time zone.
pub(super) fn system_zone() -> TimeZone {
    let is_overruled = std::env::var_os("TZ").is_some();
    let of_file = zone(Path::new(ZONE_FILE)).filter(|_| !is_overruled);
    of_file.unwrap_or_else(TimeZone::system)
}

/// The time zone in a file. Asking for the system's zone by its name would list every zone there
/// is, at each start.
fn zone(file: &Path) -> Option<TimeZone> {
    TimeZone::tzif("local", &std::fs::read(file).ok()?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::ZonedDateTime;

    #[test]
    fn today_is_the_system_s_date() {
        // Midnight may pass between the lines.
        let before = ZonedDateTime::now().date();
        let today = today();
        let after = ZonedDateTime::now().date();
        assert!(before <= today && today <= after, "{before} {today} {after}");
    }

    #[test]
    fn a_day_is_told_by_its_date_or_from_today_back() {
        let today: Date = "2026-03-01".parse().unwrap();
        for (told, day) in [
            ("2026-02-03", "2026-02-03"),
            ("today", "2026-03-01"),
            ("Yesterday", "2026-02-28"),
            ("1 day ago", "2026-02-28"),
            ("60 days ago", "2025-12-31"),
        ] {
            assert_eq!(day_before(told, today), day.parse().ok(), "{told}");
        }
        for told in ["", "monday", "31.3.2026", "-3 days ago", "days ago", "9999999999999 days ago"]
        {
            assert_eq!(day_before(told, today), None, "{told}");
        }
        assert!(day_told("last week").is_err_and(|why| why.contains("7 days ago")));
    }

    #[test]
    fn the_offset_is_the_system_s() {
        let at = Timestamp::now();
        assert_eq!(offset(at), TimeZone::system().to_offset(at));
    }

    #[test]
    fn a_file_without_a_zone_gives_none() {
        assert!(zone(Path::new("/no/such/zone")).is_none());
        assert!(zone(&Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml")).is_none());
    }
}
