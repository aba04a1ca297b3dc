//! What is kept of a case, and how it is carried on.

use super::desk::Desk;
use super::handbook::BENCH;

#[test]
fn an_interrupted_case_is_carried_on_to_its_verdict() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "done", "", "900"] {
        person.answers(line);
    }
    person.wants();
    person.control('c');
    let said = person.ends(130);
    assert!(said.contains("Interrupted. The case is kept in"), "{said}");
    assert!(said.contains("Carry on with: dryhold resume"), "{said}");
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("cloudy");
    assert!(said.contains("you stopped less than a minute ago, after 2 answers."), "{said}");
    assert!(said.contains("So far: Wet oil: likely"), "{said}");
    assert!(said.contains("How does the oil look?"), "{said}");
    for line in ["done", "done", "", "30", "1"] {
        person.answers(line);
    }
    assert!(person.ends(0).contains("Settled: "));
    assert_eq!(desk.cases().len(), 1, "it is the same case");
}

#[test]
fn alone_it_offers_to_carry_on() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    person.answers("A. B.");
    person.answers("done");
    person.answers("stop");
    person.ends(3);
    let mut person = desk.sit("--plain --only-rules rules");
    let said = person.answers("1");
    assert!(said.contains("You have a case that is not finished. 1. Carry on with case"), "{said}");
    assert!(person.answers("stop").contains("Which vacuum must be reached?"));
    person.ends(3);
}

#[test]
fn two_terminals_do_not_write_one_case() {
    let desk = Desk::with_rules(BENCH);
    let mut first = desk.sit("--plain --only-rules rules diagnose bench");
    first.answers("A. B.");
    first.wants();
    let second = desk.sit("--plain --only-rules rules resume");
    assert!(second.ends(2).contains("is open in another terminal; close it there first"));
    first.control('d');
    first.ends(3);
}

#[test]
fn where_nothing_can_be_kept_the_case_goes_on_and_says_so() {
    let desk = Desk::with_rules(BENCH);
    std::fs::write(desk.path("file"), "").unwrap();
    let mut person = desk.sit("--plain --only-rules rules --book file/book diagnose hoses");
    let said = person.answers("yellow");
    assert!(said.contains("this case goes on without being kept"), "{said}");
    person.answers("yes");
    person.answers("no more");
    person.answers("1");
    let verdict = person.ends(3);
    assert!(verdict.contains("Damp hose") && !verdict.contains("is kept in"), "{verdict}");
}

#[test]
fn a_torn_last_line_is_left_out_with_a_notice() {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench");
    for line in ["A. B.", "done", "500", "stop"] {
        person.answers(line);
    }
    person.ends(3);
    let file = &desk.cases()[0];
    let text = std::fs::read_to_string(file).unwrap();
    std::fs::write(file, &text[..text.len() - 9]).unwrap();
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("500");
    assert!(said.contains("was not written to its end and is left out."), "{said}");
    assert!(said.contains("after 0 answers. Which vacuum must be reached?"), "{said}");
    person.answers("stop");
    person.ends(3);
    assert_eq!(std::fs::read_to_string(file).unwrap().lines().count(), text.lines().count());
}
