//! A watch at a terminal, drawn in place or line after line.

use super::desk::Desk;

const ENTER: &str = "\r";
/// Asks the terminal for its first screen again (the private mode 1049 of common terminals).
const FIRST_SCREEN: &str = r"\x1b\[\?1049l";

#[test]
fn a_watch_is_drawn_in_place_and_gives_the_terminal_back() {
    let desk = Desk::new();
    let mut person = desk.sit("watch --log hold.csv").widened();
    person.sees("shut the valve at the system");
    person.sees("Type the first reading as soon as the valve is shut.");
    person.sees("Reading:");
    person.presses("4oo\r");
    person.sees("`4oo` is no reading");
    person.presses("\u{7f}\u{7f}00\r");
    person.sees("The last reading is 400 micron.");
    person.presses("402 bananas\r");
    person.sees("`402 bananas` is no reading");
    person.presses("4x\r");
    person.sees("`4x` is no reading");
    person.presses("0.41\r");
    person.sees("0.41 mmHg is 410 micron");
    person.presses("yes\r");
    person.sees("The last reading is 410 micron.");
    person.presses("back\r");
    person.sees("Taken back; the last reading is 400 micron.");
    person.presses("help\r");
    person.sees("What can be typed");
    person.presses(ENTER);
    for minute in 1..=20 {
        person.presses(&format!("{minute} min {}\r", 400 + 40 * minute));
        person.sees(&format!("The last reading is {} micron.", 400 + 40 * minute));
    }
    person.presses("why\r");
    person.sees("Why go on reading");
    person.presses("done\r");
    let said = person.ends(0);
    assert!(said.contains("Straight. A steady rise above 5 micron/min"), "{said}");
    assert!(said.contains("The readings are kept in hold.csv"), "{said}");
    let log = std::fs::read_to_string(desk.path("hold.csv")).unwrap();
    assert_eq!(log.lines().filter(|line| line.starts_with(' ')).count(), 21, "{log}");
    assert_eq!(log.lines().filter(|line| line.starts_with("#20")).count(), 1, "{log}");
}

#[test]
fn on_a_low_terminal_a_page_is_read_in_parts() {
    let desk = Desk::new();
    let mut person = desk.sit("watch --log hold.csv").sized(16, 80);
    person.sees("Part 1 of 2: Enter shows the next.");
    person.presses(ENTER);
    person.sees("Part 2 of 2: Enter leaves.");
    person.presses(ENTER);
    for minute in 0..12 {
        person.presses(&format!("{minute} min {}\r", 400 + 40 * minute));
        person.sees(&format!("The last reading is {} micron.", 400 + 40 * minute));
    }
    person.presses("why\r");
    person.sees("Why go on reading");
    person.sees("Part 1 of");
    person.presses(ENTER);
    person.sees("Part 2 of");
    person.presses("done\r");
    person.ends(0);
}

#[test]
fn interrupts_and_signals_leave_the_terminal_as_it_was() {
    let desk = Desk::new();
    for way_out in ["interrupt", "end", "terminate"] {
        let mut person = desk.sit_raw("watch --log hold.csv");
        person.matches("Reading: ");
        person.presses("420\r");
        person.matches("last reading is 420");
        assert!(!person.is_cooked(), "{way_out}");
        let status = match way_out {
            "interrupt" => {
                person.control('c');
                Some(130)
            }
            "end" => {
                person.control('d');
                Some(3)
            }
            _ => {
                person.terminate();
                None
            }
        };
        person.matches(FIRST_SCREEN);
        assert!(person.is_cooked(), "{way_out}: single keys would still be handed on");
        if let Some(status) = status {
            person.ends(status);
        }
        std::fs::remove_file(desk.path("hold.csv")).unwrap();
    }
}

#[test]
fn a_dumb_terminal_is_asked_line_after_line() {
    let desk = Desk::new();
    let mut person = desk.sit("--plain watch --log hold.csv");
    person.sees("Reading: ");
    person.presses("420\r");
    person.sees("1 reading, 0 s: too early to tell, 5 readings are needed");
    person.sees("Reading: ");
    person.presses("0.43\r");
    person.sees("Type `yes` for 430 micron, `keep` for 0.43 micron, or the reading again.");
    person.presses("keep\r");
    person.sees("2 readings");
    person.presses("oil\r");
    person.sees("`oil` is no reading");
    person.presses("help\r");
    person.sees("takes the last reading back");
    person.presses("back\r");
    person.sees("1 reading, 0 s");
    person.sees("Reading: ");
    person.control('c');
    let said = person.ends(130);
    assert!(said.contains("Cannot tell") && said.contains("kept in hold.csv"), "{said}");
}

#[test]
fn a_watch_is_taken_up_where_it_was_killed() {
    let desk = Desk::new();
    let mut person = desk.sit("watch --log hold.csv");
    person.sees("Reading:");
    person.presses("420\r");
    person.sees("The last reading is 420 micron.");
    person.kill();
    let mut person = desk.sit("watch --log hold.csv");
    person.sees("Goes on with 1 reading, the first one");
    person.sees("since the first.");
    person.presses("425\r");
    person.sees("2 readings");
    person.presses("done\r");
    person.ends(3);
}
