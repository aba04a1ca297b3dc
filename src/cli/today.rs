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
