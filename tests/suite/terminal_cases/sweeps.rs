//! A sweep whose first answers were wrong.

use super::desk::{Desk, Sitting};

/// A person who is asked how fast the hold before the sweep rose.
fn before_the_sweep(desk: &Desk) -> Sitting {
    let mut person = desk.sit("--plain diagnose nitrogen_sweep");
    for line in ["yes", "A. B.", "no", "no", "aired", "yes", "r410a", "A. B.", "A. B.", "yes"] {
        person.answers(line);
    }
    person
}

#[test]
fn a_sweep_that_is_gone_through_again_from_before_it_comes_to_its_verdict() {
    let desk = Desk::new();
    let mut person = before_the_sweep(&desk);
    for line in ["40 micron/min", "done", "start", "", "40 micron/min"] {
        person.answers(line);
    }
    for line in ["back", "back", "back", "back", "40 micron in 10 min", "done", "start", ""] {
        person.answers(line);
    }
    let said = person.answers("0");
    assert!(!said.contains("This takes the place of the answer"), "{said}");
    assert!(said.contains("how fast does it rise after the sweep"), "{said}");
    person.answers("yes");
    person.answers("15");
    let said = person.answers("stop");
    assert!(said.contains("behind it nothing rose in 15 min: the sweep did its work"), "{said}");
    person.ends(3);
}

/// Many read by how much it rose in the ten minutes, and say no more than that.
#[test]
fn a_bare_number_where_a_rate_is_asked_for_is_asked_in_which_time() {
    let desk = Desk::new();
    let mut person = before_the_sweep(&desk);
    person.answers("40");
    let said = person.answers("3");
    let asked = "40 alone doesn't say in which time: 40 micron/min, or in how many minutes, such as \
                 40 micron in 10 min?";
    assert!(said.contains(asked), "{said}");
    assert!(
        said.contains("1. keep 40 micron/min 2. use 40 micron in 10 min 3. type it again"),
        "{said}"
    );
    person.answers("40");
    let said = person.answers("2");
    assert!(said.contains("3. type it again"), "{said}");
    let said = person.answers("stop");
    assert!(said.contains("40 micron in 10 min"), "{said}");
    assert!(said.contains("Break the vacuum with dry nitrogen"), "it goes on: {said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert!(case.contains("\"typed\":\"40 micron in 10 min (4 micron/min)\""), "{case}");
}

/// Words for nothing belong to the rate that is asked for, and to no other question's.
#[test]
fn words_for_no_rise_are_asked_back_as_the_rate_that_is_asked_for() {
    let desk = Desk::new();
    let mut person = before_the_sweep(&desk);
    person.answers("40 micron in 10 min");
    for line in ["done", "start", ""] {
        person.answers(line);
    }
    person.answers("no rise at all");
    let said = person.answers("no");
    let back = "\"no rise at all\": is that 0 micron/min? 1. keep 0 micron/min 2. type it again";
    assert!(said.contains(back) && !said.contains("Does it belong to"), "{said}");
    person.answers("no rise at all");
    person.answers("yes");
    let said = person.answers("stop");
    assert!(said.contains("Is the gauge alive and open to the system"), "{said}");
    person.ends(3);
    let case = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    let taken = "\"question\":\"rise_after_sweep\",\"typed\":\"0 micron/min\"";
    assert!(case.contains(taken), "{case}");
}

#[test]
fn other_words_for_no_rise_count_as_none() {
    for told in ["none at all", "it doesn't rise", "It does not rise."] {
        let desk = Desk::new();
        let mut person = before_the_sweep(&desk);
        person.answers(told);
        let said = person.answers("stop");
        assert!(said.contains("counts as 0 micron/min."), "{told}: {said}");
        person.ends(3);
    }
}
