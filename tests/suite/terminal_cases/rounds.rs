//! A tree that is run once for each hose.

use super::desk::Desk;
use super::handbook::BENCH;

#[test]
fn rounds_go_on_until_no_more() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose hoses");
    let said = person.answers("yellow");
    assert!(said.contains("Which hose is next? Type `no more` when none is left."), "{said}");
    assert!(person.answers("no").contains("Has this hose lain in the wet?"));
    assert!(person.answers("blue").contains("Which hose is next?"));
    person.answers("yes");
    let said = person.answers("no more");
    assert!(said.contains("A hose has lain in the wet. So far: Damp hose:"), "{said}");
    let said = person.answers("1");
    assert!(said.contains("No more. Each hose: done."), "{said}");
    let verdict = person.ends(3);
    assert!(verdict.contains("First comes Damp hose (blue): "), "{verdict}");
}

#[test]
fn what_names_nothing_begins_no_round() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose hoses");
    person.answers("yes");
    for typed in ["1", "not sure", "blue"] {
        let said = person.answers(typed);
        assert!(said.contains("is no name. Type what you call it, in letters, or"), "{said}");
    }
    assert!(person.answers("stop").contains("Has this hose lain in the wet?"));
    person.ends(3);
}

#[test]
fn rounds_end_on_a_screen_too() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--only-rules rules diagnose hoses");
    person.picks("yellow");
    person.sees("Has this hose lain in the wet?");
    person.picks("No");
    person.sees("Which hose is next?");
    person.picks("no more");
    person.sees("Each hose: done.");
    person.picks("");
    person.ends(3);
}

#[test]
fn a_reading_is_no_name_of_a_part() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose hoses");
    person.answers("1800");
    for typed in ["1800 micron", "0.5 mbar"] {
        let said = person.answers(typed);
        assert!(said.contains("\" is no name. Type what you call it"), "{said}");
        assert!(said.contains("Its readings are asked for next."), "{said}");
    }
    person.answers("3/8 hose");
    assert!(person.answers("other").contains("Has this hose lain in the wet?"));
    person.answers("Which hose is next?");
    person.answers("250 micron");
    let said = person.answers("blue");
    assert!(
        said.contains("`250 micron` is a reading and no name; type what you call it"),
        "{said}"
    );
    person.answers("stop");
    person.ends(3);
}
