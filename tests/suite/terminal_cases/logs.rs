//! A log that is typed at a terminal.

use super::desk::Desk;

/// The input ends once, not once more for each who reads it.
#[test]
fn a_log_is_asked_for_and_ends_at_one_end_of_input() {
    for rows in [
        &["0 min 420 micron\r", "5 min 455\r", "10 min 480\r"][..],
        &["420, 455, 480 micron every 5 min\r"],
        &["time_min,pressure_micron\r", "0,420\r", "5,455\r", "10,480\r"],
    ] {
        let desk = Desk::new();
        let mut person = desk.sit("rise -");
        person.sees("Type the readings, each behind its time");
        person.sees("5 min 455 micron");
        person.sees("Ctrl-D on an empty line ends.");
        for row in rows {
            person.presses(row);
        }
        person.control('d');
        person.sees("Reading of the rise");
        person.ends(3);
    }
}
