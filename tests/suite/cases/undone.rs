//! A repair that is passed over changes nothing: what was found stands, the repair stands open, and
//! nothing that it was to change is asked again.

use dryhold::case::{Case, Ending, Event, Now};
use dryhold::evidence::{Engine, FindingState};
use dryhold::report::{verdict, verdict_json};

use super::handbooks::{Bench, handbook};

/// Every number is invented.
const HANDBOOK: &str = r"
format: 1
name: Casks one by one
version: 1
questions:
  cask: {ask: 'Which cask?', kind: text}
  level: {ask: 'How high does it stand?', kind: length, range: 0 m to 2 m, basis: estimate}
  is_warm: {ask: 'Is the cellar warm?', kind: yes/no}
findings:
  stands_low:
    when: level < 50 cm
    so: It stands at {level}.
    so_not: It stands at {level}, high enough.
    shown_by: {staves: 0.9}
    anyway: 0.05
    basis: estimate
causes:
  staves: {name: Dry staves, how_common: 0.3, because: Wood shrinks., fix: [soak], cured_by: {soak: 0.8}, basis: estimate}
actions:
  soak: {do: 'Soak the cask overnight.', takes: 60 min, once_done: the cask was soaked}
  heat: {do: 'Heat the cellar.', takes: 60 min, once_done: the cellar was heated}
trees:
  casks:
    title: One cask at a time
    rounds: cask
    start: read
    steps:
      read:
        ask: level
        again: true
        next:
          - if: stands_low
            go: soak
          - unknown: unread
          - else: good
      soak: {action: soak, at_most: 2, then: unread, next: read}
      good: {end: 'The {cask} stands high enough.'}
      unread: {end: 'The {cask} has not been judged.'}
  cellar:
    title: The cellar
    start: heat
    steps:
      heat: {action: heat, optional: true, next: warm}
      warm: {ask: is_warm, next: over}
      over: {end: It has been looked at.}
  visits:
    title: Through the casks
    start: one
    steps:
      one: {visit: alone, next: over}
      over: {end: The visit is over.}
  alone:
    title: One cask alone
    start: read
    steps:
      read: {ask: level, next: soak}
      soak: {action: soak, next: read_again}
      read_again: {ask: level, again: true, next: over}
      over: {end: It has been read again.}
";

fn skip(case: &mut Case<'_>) {
    let Now::Act { place, .. } = case.now() else { panic!("no action: {:?}", case.now()) };
    let tree = case.handbook().tree(place.tree);
    let (tree, step) = (tree.id.clone(), tree.step(place.step).id.clone());
    case.apply(Event::Skipped { tree, step }).unwrap();
}

fn opened<T>(tree: &str, look: impl FnOnce(&mut Bench<'_>) -> T) -> T {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    look(&mut Bench::open(&handbook, &engine, tree))
}

fn said(case: &Case<'_>) -> String {
    let lines = verdict(case, &Ending::Done);
    lines.iter().map(|line| line.to_text()).collect::<Vec<_>>().join("\n")
}

#[test]
fn what_was_found_stands_where_its_repair_is_passed_over() {
    opened("casks", |bench| {
        bench.answer("cask", "red cask");
        bench.answer("level", "20 cm");
        let found = bench.case.assessment().ranking.clone();
        skip(&mut bench.case);
        let assessment = bench.case.assessment();
        assert_eq!(assessment.ranking, found);
        let id = bench.case.handbook().find_finding("stands_low").unwrap();
        assert!(matches!(assessment.finding(id).state, FindingState::True(_)));
        // The round is over: nothing is read again, and the soaking isn't asked for a second time.
        assert!(matches!(bench.case.now(), Now::Ask { names_a_round: true, .. }));
        let ended = &bench.case.round_ends()[0].done.to_text();
        assert_eq!(
            ended,
            "Not done yet: nobody has said that the cask was soaked. What was found before it stands."
        );
    });
}

#[test]
fn a_repair_that_was_passed_over_stands_open_until_it_is_made() {
    opened("casks", |bench| {
        bench.answer("cask", "red cask");
        bench.answer("level", "20 cm");
        skip(&mut bench.case);
        let told = said(&bench.case);
        assert!(told.contains("As first found: It stands at 0.2 m. Not done yet: "), "{told}");
        assert!(told.contains("It is still to be done against Dry staves."), "{told}");
        assert!(told.contains("(not done yet; against Dry staves"), "{told}");
        let json = verdict_json(&bench.case, &Ending::Done);
        assert_eq!(json["not_done_yet"], serde_json::json!(["soak"]));
        // Made in the next round, it is open no more.
        bench.answer("cask", "red cask");
        bench.answer("level", "20 cm");
        bench.done();
        bench.answer("level", "90 cm");
        assert!(bench.case.left_undone().is_empty());
        assert!(!said(&bench.case).contains("still to be done"));
    });
}

#[test]
fn a_passed_over_action_gives_the_way_back_to_the_tree_that_visits() {
    opened("visits", |bench| {
        bench.answer("level", "20 cm");
        skip(&mut bench.case);
        let Now::Ended { done, .. } = bench.case.now() else { panic!("{:?}", bench.case.now()) };
        assert_eq!(done.to_text(), "The visit is over.");
        // Taken back, the action is wanted again.
        let order = bench.case.given_last().unwrap();
        bench.case.apply(Event::TakenBack { order }).unwrap();
        assert!(matches!(bench.case.now(), Now::Act { .. }));
    });
    opened("alone", |bench| {
        bench.answer("level", "20 cm");
        skip(&mut bench.case);
        let Now::Ended { done, then, .. } = bench.case.now() else { panic!("no end") };
        assert!(
            done.to_text().starts_with("Not done yet: nobody has said that the cask was soaked")
        );
        assert_eq!(*then, [bench.case.handbook().find_tree("alone").unwrap()]);
        // What the end says isn't said a second time.
        assert_eq!(said(&bench.case).matches("Not done yet").count(), 1);
    });
}

#[test]
fn an_optional_action_is_passed_over_and_the_tree_goes_on() {
    opened("cellar", |bench| {
        skip(&mut bench.case);
        assert!(matches!(bench.case.now(), Now::Ask { .. }), "{:?}", bench.case.now());
        assert_eq!(bench.case.left_undone(), [bench.case.handbook().find_action("heat").unwrap()]);
    });
}
