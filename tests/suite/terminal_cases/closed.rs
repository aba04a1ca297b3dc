//! A case that was closed, and what is told of a job at its terminal.

use std::process::Output;

use super::desk::Desk;
use super::handbook::BENCH;

fn run(desk: &Desk, arguments: &str) -> Output {
    let arguments: Vec<&str> = arguments.split_whitespace().collect();
    desk.program(&arguments).output().unwrap()
}

fn id(desk: &Desk) -> String {
    desk.cases()[0].file_stem().unwrap().to_str().unwrap().to_owned()
}

/// A case with one answer, closed.
fn closed() -> Desk {
    let desk = Desk::with_rules(BENCH);
    let mut person = desk.sit("--plain --only-rules rules diagnose bench --place roof");
    for line in ["A. B.", "done", "500", "stop"] {
        person.answers(line);
    }
    person.ends(3);
    let close = format!("--only-rules rules close {} --fixed-by nothing", id(&desk));
    assert_eq!(run(&desk, &close).status.code(), Some(0));
    desk
}

fn listed(desk: &Desk) -> String {
    String::from_utf8(run(desk, "--only-rules rules cases").stdout).unwrap()
}

#[test]
fn a_closed_case_is_opened_again_only_if_somebody_says_so() {
    let desk = closed();
    let mut person = desk.sit("--plain --only-rules rules resume");
    let said = person.answers("1");
    assert!(said.contains("is closed: nothing was wrong. 1. Leave it closed"), "{said}");
    person.ends(3);
    let mut person = desk.sit("--plain --only-rules rules resume");
    person.wants();
    person.control('c');
    person.ends(130);
    assert!(listed(&desk).contains("closed"), "{}", listed(&desk));
    let mut person = desk.sit("--plain --only-rules rules resume");
    person.answers("2");
    assert!(person.answers("stop").contains("after 1 answer."));
    person.ends(3);
    assert!(listed(&desk).contains("open"), "{}", listed(&desk));
}

#[test]
fn it_is_opened_again_without_asking_where_that_was_said_beforehand() {
    let desk = closed();
    let mut person = desk.sit("--plain --only-rules rules resume --reopen");
    assert!(person.answers("stop").contains("after 1 answer."));
    person.ends(3);
    assert!(listed(&desk).contains("open"), "{}", listed(&desk));
}

#[test]
fn a_closed_case_is_not_offered_to_be_carried_on() {
    let desk = closed();
    // A new case is begun, for which this handbook wants a tree.
    let said = desk.sit("--plain --only-rules rules").ends(2);
    assert!(said.contains("name a tree") && !said.contains("not finished"), "{said}");
}

#[test]
fn what_is_told_at_the_start_is_kept_and_not_told_again() {
    let desk = closed();
    assert!(listed(&desk).lines().next().unwrap().ends_with("roof"), "{}", listed(&desk));
    let mut person = desk.sit("--plain --only-rules rules resume --reopen --place roof --gauge G7");
    person.answers("stop");
    person.ends(3);
    let text = std::fs::read_to_string(&desk.cases()[0]).unwrap();
    assert_eq!(text.matches("\"place\":\"roof\"").count(), 1);
    assert!(text.contains("{\"what\":\"described\",\"details\":{\"gauge\":\"G7\"}}"), "{text}");
}
