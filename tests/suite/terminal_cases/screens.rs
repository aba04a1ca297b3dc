//! A whole case with lists to walk and fields to type in.

use super::desk::Desk;
use super::handbook::BENCH;

const ESCAPE: &str = "\u{1b}";

#[test]
fn a_whole_case_is_answered_on_screens() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--only-rules rules diagnose bench");
    let said = person.picks("A. B.");
    assert!(
        said.contains("Caution, read first: Never open a charged circuit. Recover it first."),
        "{said}"
    );
    person.sees("Who acknowledges this? A. B.");
    person.picks("");
    person.sees("Cap the inlet of the pump. done");
    person.picks("500");
    person.sees("Read as 500 micron.");
    person.picks("");
    person.sees("until it is warm. start the wait of 5 min");
    person.sees("Wait 5 min. Enter goes on sooner, Esc for more.");
    person.sees(" left");
    person.presses("\r");
    let said = person.sees("Where does the capped pump stop? (about 5 min)");
    assert!(said.contains("have passed.") && said.contains("The pump is hot."), "{said}");
    person.picks("900");
    let said = person.sees("How does the oil look?");
    assert!(said.contains("The pump stops at 900 micron, above"), "{said}");
    assert!(said.contains("So far: Wet oil: likely"), "{said}");
    person.picks("cloud");
    person.sees("How does the oil look? Cloudy or milky");
    let said = person.sees("Drain the oil and fill in fresh oil. (about 10 min)");
    assert!(said.contains("CAUTION: The pump is hot. You need: pump oil."), "{said}");
    person.picks("");
    person.picks("");
    person.sees(" left");
    person.presses("\r");
    person.picks("30");
    person.sees("What next?");
    person.picks("");
    let verdict = person.ends(0);
    assert!(verdict.contains("Settled: "), "{verdict}");
    assert!(verdict.contains("there at first: almost certain (about 97 in 100)"), "{verdict}");
}

#[test]
fn the_start_shows_every_way_and_is_found_by_words() {
    let desk = Desk::new();
    let mut person = desk.sit("diagnose").sized(30, 80);
    let said = person.sees("21. more [arrows or type; Esc for more]");
    assert!(said.contains("(nothing chosen yet) 1. Find the fault"), "{said}");
    assert!(said.contains("18. Once more, after charging"), "{said}");
    person.presses("power\r");
    person.sees("Start again after the pump stopped by itself");
    person.sees("leave the pump's switch off");
    person.control('c');
}

#[test]
fn a_list_longer_than_the_screen_is_counted() {
    let desk = Desk::new();
    let mut person = desk.sit("diagnose").sized(16, 80);
    person.sees("21 in all: arrows or type; Esc for more");
    person.control('c');
}

#[test]
fn back_take_back_and_why_go_by_words() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--only-rules rules diagnose bench");
    person.picks("A. B.");
    person.picks("");
    person.picks("500");
    person.picks("back");
    person.sees("Taken back: Which vacuum must be reached? [500 micron] No conclusion moved.");
    person.sees("? Which vacuum must be reached?");
    person.sees("Esc for more");
    person.presses(ESCAPE);
    person.sees("why: see why this is asked");
    person.sees("Ctrl-D ends; a case is kept.");
    person.presses("why\r");
    person.sees("The pump has to stop well below it.");
    person.picks("500");
    person.sees("Read as 500 micron.");
    person.picks("take back");
    person.sees("Which answer do you want to take back?");
    person.picks("");
    person.sees("Taken back: Which vacuum must be reached? [500 micron]");
    person.sees("? Which vacuum must be reached?");
    person.sees("Esc for more");
    person.control('c');
    let said = person.ends(130);
    assert!(said.contains("Interrupted. The case is kept in"), "{said}");
    assert!(!said.contains("Verdict"), "who interrupts wants out: {said}");
}

#[test]
fn keys_with_ctrl_are_no_part_of_a_name() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--only-rules rules diagnose bench");
    person.sees("Esc for more");
    for letter in ['u', 'w', 'k'] {
        person.control(letter);
    }
    person.presses("Somebody Else");
    person.control('u');
    person.presses("A. B. Nobody");
    person.control('w');
    person.presses("\r");
    person.sees("Cap the inlet of the pump.");
    person.sees("Esc for more");
    person.control('d');
    let said = person.ends(3);
    assert!(said.contains("The case is kept in"), "{said}");
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains("\"by\":\"A. B.\""), "{case}");
}

#[test]
fn nothing_of_a_list_stays_behind_an_interrupt() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit_raw("--only-rules rules diagnose bench");
    person.picks("A. B.");
    person.sees("Esc for more");
    person.presses("do");
    person.sees("Enter takes the marked row");
    person.control('c');
    // The rows below the cursor are cleared before anything is said.
    person.matches("\u{1b}\\[J\r+\n(.|\n)*Interrupted");
    person.ends(130);
}
