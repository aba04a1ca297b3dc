//! An answer that somebody wants changed, in words of their own.

use super::desk::{Desk, Sitting};

/// A person at the pump, who has said that its oil is cloudy and is asked for its age.
fn behind_the_oil(desk: &Desk) -> Sitting {
    let mut person = desk.sit("--plain diagnose pump_alone");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a", "A. B.", "A. B."] {
        person.answers(line);
    }
    for line in ["done", "yes", "20 micron", "not sure", "not sure", "500 micron", "cloudy"] {
        person.answers(line);
    }
    person
}

#[test]
fn who_wants_an_answer_changed_is_offered_that_one() {
    let desk = Desk::new();
    let mut person = behind_the_oil(&desk);
    for told in ["change oil", "correct the oil", "change the answer about the oil"] {
        person.answers(told);
        let said = person.answers("no");
        let offers = "Which answer do you want to take back? It is asked anew then. 1. What does the \
                      oil look like in the sight glass? [Cloudy or milky] 2. None of these";
        assert!(said.contains(offers), "{told}: {said}");
        assert!(!said.contains("[0 h]"), "{told}: {said}");
    }
    person.answers("change oil");
    person.answers("1");
    let said = person.answers("clear");
    assert!(said.contains("Taken back: What does the oil look like"), "{said}");
    assert!(said.contains("1. Clear, and at the mark"), "{said}");
    person.answers("stop");
    person.ends(3);
}

/// The question that comes next in any case stands first, and none is ready that nobody named.
#[test]
fn a_value_beside_a_wait_is_offered_to_what_comes_next_and_never_ready() {
    let desk = Desk::new();
    let mut person = behind_the_oil(&desk);
    for line in ["10 h", "start", "35 micron"] {
        person.answers(line);
    }
    let said = person.answers("");
    let offers = "1. With only the gauge on the capped pump, where does the reading settle? [35 \
                  micron] 2. With the ballast still open, where does the reading settle? [35 micron]";
    assert!(said.contains(offers), "{said}");
    assert!(said.contains("Enter alone takes None of these: back to what was asked"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("\"35 micron\" is kept as a note"), "{said}");
    person.ends(3);
}

/// A gauge whose unit somebody has to tell; every number is invented.
const FACE: &str = r"
format: 1
name: A face
version: 1
instruments:
  gauge: {name: Gauge, face: shown, offset: 5 micron, resolution: 1 micron, basis: estimate}
questions:
  shown:
    ask: Which unit does it show?
    choices: {in_micron: Micron, in_torr: Torr}
    units: {in_micron: micron, in_torr: Torr}
    basis: estimate
  level:
    ask: Where does it stand?
    kind: pressure
    unit: micron
    range: 0.1 micron to 760000 micron
    usual: 5 micron to 50000 micron
    instrument: gauge
    basis: estimate
trees:
  look:
    title: Look at it
    start: shown
    steps:
      shown: {ask: shown, next: level}
      level: {ask: level, next: over}
      over: {end: It was looked at.}
";

#[test]
fn a_bare_number_gets_no_unit_that_nobody_knows_and_a_nought_more_puts_it_right() {
    let desk = Desk::with_rules(FACE);
    let mut person = desk.sit("--plain --only-rules rules diagnose look");
    person.answers("not sure");
    person.answers("1500");
    let said = person.answers("fifteen hundred micron");
    let alone = "\"1500\" is a number alone, and nobody knows which unit the gauge shows.";
    assert!(said.contains(alone) && !said.contains("Read as"), "{said}");
    let said = person.answers("other");
    assert!(said.contains("Read as 1500 micron."), "{said}");
    person.answers("Where does it stand?");
    person.answers("15000 micron");
    let said = person.answers("");
    assert!(
        said.contains("Enter alone takes A correction: the earlier answer was wrong"),
        "{said}"
    );
    let said = person.answers("stop");
    assert!(said.contains("[15000 micron, not 1500 micron]"), "{said}");
    person.ends(3);
}
