//! What has to be done before a test, what has to be safe, and what is said of it.

use dryhold::case::Ending;
use dryhold::evidence::{Engine, NextTest};
use dryhold::handbook::Handbook;
use dryhold::report::verdict;

use super::mending::act;
use super::pump::HANDBOOK;
use super::{Bench, answered, answers, handbook};

/// The joints are looked at behind an action that takes so many minutes, and after a safety
/// question.
fn capped(minutes: u32) -> String {
    let action = format!(
        "\nactions:\n  cap:\n    do: Cap the pump.\n    takes: {minutes} min\n    leaves: [capped]\n"
    );
    let steps = "    start: valve
    steps:
      valve:
        ask: valve_open
        next: {yes: stop, no: cap}
      stop:
        stop: The valve is open.
        refer: the keeper of the valve
      cap:
        action: cap
        next: wait
";
    let questions = "\nquestions:
  valve_open:
    ask: Is the valve open?
    kind: yes/no
    hazard: yes
    takes: 90 min
";
    HANDBOOK
        .replace("\nactions:\n", &action)
        .replace("    start: wait\n    steps:\n", steps)
        .replace("\nquestions:\n", questions)
        .replace("    takes: 15 min\n", "    takes: 15 min\n    ends: [capped]\n")
}

/// The open test of these questions.
fn test(handbook: &Handbook, bench: &Bench<'_>, ids: &[&str]) -> NextTest {
    let is_it = |test: &NextTest| {
        let named = test.questions.iter().map(|id| handbook.question(*id).id.as_str());
        let named: Vec<&str> = named.filter(|id| *id != "valve_open").collect();
        named == ids
    };
    let tests = bench.case.insight().tests;
    tests.iter().find(|test| is_it(test)).unwrap_or_else(|| panic!("{ids:?}: {tests:?}")).clone()
}

#[test]
fn a_test_pays_for_what_has_to_be_done_before_it_until_that_stands() {
    let handbook = handbook(&capped(7));
    let engine = Engine::new(&handbook).unwrap();
    let given = answers(&[("reads_high", "yes"), ("valve_open", "no")]);
    let mut bench = answered(&handbook, &engine, &given);
    let minutes = |bench: &Bench<'_>| {
        [&["bubbles"][..], &["bubbles", "rises"]].map(|ids| test(&handbook, bench, ids).minutes)
    };
    assert_eq!(minutes(&bench), [12.0 + 7.0, 12.0 + 10.0 + 5.0 + 7.0]);
    act(&mut bench, "cap");
    assert_eq!(minutes(&bench), [12.0, 12.0 + 10.0 + 5.0], "it is capped already");
    act(&mut bench, "tighten");
    assert_eq!(minutes(&bench), [12.0 + 7.0, 12.0 + 10.0 + 5.0 + 7.0], "it was opened again");
}

fn next(bench: &Bench<'_>) -> Vec<String> {
    let said = verdict(&bench.case, &Ending::Done);
    let lines: Vec<String> = said.iter().map(|line| line.to_text()).collect();
    let from = lines.iter().position(|line| line == "What to check next").unwrap();
    let heading_after = lines.iter().position(|line| line == "Before you act").unwrap();
    lines[from + 1..heading_after].to_vec()
}

#[test]
fn an_open_safety_question_comes_before_the_test_it_guards() {
    let handbook = handbook(&capped(1));
    let engine = Engine::new(&handbook).unwrap();
    let valve = handbook.find_question("valve_open").unwrap();
    let open = answered(
        &handbook,
        &engine,
        &answers(&[("reads_high", "yes"), ("looks", "clear"), ("floor", "60 micron")]),
    );
    let of_open = open.case.insight().tests;
    assert!(of_open.iter().all(|test| test.safety == [valve]), "{of_open:?}");
    let said = next(&open);
    let first = &said[0];
    assert!(first.starts_with("- Answer this before \""), "the test has a name: {said:?}");
    assert!(first.ends_with("\", for safety: Is the valve open?"), "{said:?}");
    assert_eq!(said.iter().filter(|line| line.contains("Is the valve open?")).count(), 1);
    let shut = answered(
        &handbook,
        &engine,
        &answers(&[
            ("reads_high", "yes"),
            ("looks", "clear"),
            ("floor", "60 micron"),
            ("valve_open", "no"),
        ]),
    );
    assert!(shut.case.insight().tests.iter().all(|test| test.safety.is_empty()));
    assert!(next(&shut).iter().all(|line| !line.contains("for safety")));
}

/// Of several answers nobody sees by himself which is the dangerous one.
#[test]
fn a_safety_question_with_several_answers_says_what_it_is_asked_for() {
    let choices = "    choices: {shut: It is shut, open: It stands open}
    hazard: open
";
    let text = capped(1)
        .replace("    kind: yes/no\n    hazard: yes\n", choices)
        .replace("next: {yes: stop, no: cap}", "next: {open: stop, shut: cap}");
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    let given = answers(&[("reads_high", "yes"), ("looks", "clear"), ("floor", "60 micron")]);
    let said = next(&answered(&handbook, &engine, &given));
    let asked = "for safety: Is the valve open? It is asked for this: \"It stands open\".";
    assert!(said[0].ends_with(asked), "{said:?}");
}

/// A plan for another job asks for the joints too, behind a question of its own: what is safe there
/// is not asked for here, whichever of the two comes first in the handbook.
#[test]
fn a_test_is_guarded_by_the_tree_that_asks_least_besides() {
    let plan = "\ntrees:
  a_plan:
    title: A plan for another job
    start: parted
    steps:
      parted:
        ask: branch_parted
        next: {yes: old, no: stop}
      old:
        ask: old
        next: store
      store:
        ask: dry_store
        next: bubbles
      bubbles:
        ask: bubbles
        next: stop
      stop:
        stop: The branch is not parted.
        refer: the keeper of the branch
";
    let questions = "\nquestions:
  branch_parted:
    ask: Is the branch parted?
    kind: yes/no
    hazard: yes
";
    let text = capped(1).replace("\ntrees:\n", plan).replace("\nquestions:\n", questions);
    let handbook = handbook(&text);
    assert_eq!(handbook.trees()[0].id, "a_plan");
    let engine = Engine::new(&handbook).unwrap();
    let given = answers(&[("reads_high", "yes"), ("looks", "clear"), ("floor", "60 micron")]);
    let bench = answered(&handbook, &engine, &given);
    let bubbles = test(&handbook, &bench, &["bubbles"]);
    let home = bubbles.home.map(|tree| handbook.tree(tree).id.as_str());
    assert_eq!(home, Some("joints"));
    let named = bubbles.safety.iter().map(|id| handbook.question(*id).id.as_str());
    assert_eq!(named.collect::<Vec<_>>(), ["valve_open"]);
    assert!(next(&bench).iter().all(|line| !line.contains("branch")));
}

/// What parts the ways is what somebody comes with: nobody goes and looks at it, however much it
/// would tell.
#[test]
fn what_parts_the_ways_is_no_check_to_make() {
    let start = "\ntrees:
  first:
    title: Where to go
    start: seen
    steps:
      seen:
        ask: seen
        next: {stops: {tree: pump}, rises: {tree: joints}}
";
    let seen = "\nquestions:
  seen:
    ask: What is seen?
    choices: {stops: It stops, rises: It rises}
    takes: 1 min
";
    let telling = "\nfindings:
  seen_first:
    of: seen
    shown_by:
      joint: {stops: 0.1, rises: 0.9}
    anyway: {stops: 0.9, rises: 0.1}
    basis: estimate
";
    let text = [("trees", start), ("questions", seen), ("findings", telling)]
        .iter()
        .fold(capped(1), |text, (section, more)| text.replace(&format!("\n{section}:\n"), more));
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    let bench = answered(&handbook, &engine, &answers(&[("reads_high", "yes"), ("old", "no")]));
    let seen = handbook.find_question("seen").unwrap();
    let tests = bench.case.insight().tests;
    assert!(!tests.is_empty() && tests.iter().all(|test| !test.questions.contains(&seen)));
    assert!(next(&bench).iter().all(|line| !line.contains("What is seen?")));
}

/// With an hour before either, both joints' questions in one go are worth more than one of them.
#[test]
fn a_question_that_a_tree_asks_is_not_named_again() {
    let handbook = handbook(&capped(60));
    let engine = Engine::new(&handbook).unwrap();
    let given = answers(&[("looks", "clear"), ("floor", "60 micron"), ("valve_open", "no")]);
    let bench = answered(&handbook, &engine, &given);
    let tests = bench.case.insight().tests;
    let tree = tests.iter().position(|test| test.tree.is_some()).unwrap();
    let asked_again = |test: &NextTest| {
        test.tree.is_none() && test.questions.iter().all(|id| tests[tree].questions.contains(id))
    };
    assert!(tests[..2][tree].tree.is_some() && tests.iter().any(asked_again), "{tests:?}");
    let said = next(&bench);
    assert!(said.iter().any(|line| line.starts_with("- Run \"The joints\"")), "{said:?}");
    let twice = ["Are there bubbles", "Does it rise"]
        .map(|asks| said.iter().any(|line| line.contains(asks)));
    assert_eq!(twice, [false, false], "{said:?}");
}
