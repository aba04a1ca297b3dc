//! Answers given in turn, in trees in which the first way to a step is not the one to go.

use dryhold::analysis::{Analysis, Answering, DeadEnds, Effort, Found, Goal, Stuck};
use dryhold::handbook::{Handbook, StepId};

use crate::cases::handbooks::handbook;

/// A floor need not be read again where it has been read: a way that nobody can go who answers
/// when asked. Behind it another doubtful turn, and a bound that takes three rounds.
const WAYS: &str = r"
format: 1
name: Ways
version: 1
questions:
  floor: {ask: How low does it pull?, kind: pressure, unit: micron, range: 1 micron to 5000 micron, basis: estimate}
  reading: {ask: And with the hose?, kind: pressure, unit: micron, range: 1 micron to 5000 micron, basis: estimate}
  falling: {ask: Is it still falling?, kind: yes/no}
formulas:
  settled: {is: not falling}
  added: {is: reading - floor, as: micron}
findings:
  adds:
    when: added > 30 micron
    only_if: settled
    so: It adds {added}.
    so_not: It adds little.
    shown_by: {leak: 0.9}
    anyway: 0.1
    basis: estimate
causes:
  leak: {name: A leak, how_common: 0.2, because: A seal is worn., fix: [seal], cured_by: {seal: 0.9}, basis: estimate}
actions:
  seal: {do: Change the seal., takes: 5 min, basis: estimate}
trees:
  hose:
    title: The hose
    start: need
    steps:
      need:
        do: Warm the pump.
        next: [{if: floor <= 100 micron, go: hose}, {too_close: cap}, {unknown: cap}, {else: cap}]
      cap: {do: Cap it., next: bare}
      bare:
        ask: floor
        again: true
        next: [{if: floor > 100 micron, go: high}, {too_close: hose}, {unknown: high}, {else: hose}]
      hose: {ask: reading, again: true, next: settling}
      settling:
        ask: falling
        again: true
        next: [{if: falling, go: damp}, {too_close: judge}, {unknown: judge}, {else: judge}]
      judge:
        do: Look.
        next: [{if: adds, go: seal}, {too_close: good}, {unknown: good}, {else: good}]
      seal: {action: seal, at_most: 2, then: aside, next: hose}
      aside: {end: Put it aside.}
      good: {end: It is good.}
      damp: {end: It is damp.}
      high: {end: The pump comes first.}
    basis: estimate
";

fn step(handbook: &Handbook, id: &str) -> Goal {
    let tree = handbook.find_tree("hose").unwrap();
    let place = handbook.tree(tree).steps.iter().position(|step| step.id == id).unwrap();
    Goal::Step(tree, StepId::at(place))
}

#[test]
fn another_way_into_a_step_is_gone_where_the_first_can_not_be() {
    let handbook = handbook(WAYS);
    let analysis = Analysis::of(&handbook);
    for id in ["hose", "judge", "seal", "aside", "good", "damp"] {
        let goal = step(&handbook, id);
        let found = analysis.look_for(goal, Answering::InTurn, &Effort::of(2000));
        let Found::Answers(witness) = found else { panic!("{id}: {found:?}") };
        assert_eq!(witness.beforehand, []);
        let floor = handbook.find_question("floor").unwrap();
        assert_eq!(witness.answers[0].0, floor, "{id}: the floor is read first");
    }
}

/// Where nothing leads on, the condition is named that was not made to come out as it has to.
#[test]
fn a_search_says_where_it_was_stuck() {
    let text = WAYS.replace("if: adds, go: seal", "if: adds and reading < floor, go: seal");
    let handbook = handbook(&text);
    let analysis = Analysis::of(&handbook);
    let goal = step(&handbook, "aside");
    let found = analysis.look_for(goal, Answering::InTurn, &Effort::of(2000));
    let (Found::Nothing(Some(stuck)) | Found::GivenUp(Some(stuck))) = found else {
        panic!("{found:?}")
    };
    let Goal::Step(tree, judge) = step(&handbook, "judge") else { panic!("a step is a step") };
    assert_eq!(stuck, Stuck { tree, step: judge, rule: 0, wanted: "true" });
}

/// A way that one search found dead costs the next one nothing.
#[test]
fn searches_pass_over_the_dead_ends_of_others() {
    let text = WAYS.replace("if: adds, go: seal", "if: adds and reading < floor, go: seal");
    let handbook = handbook(&text);
    let analysis = Analysis::of(&handbook);
    let dead = DeadEnds::default();
    let spent = |id: &str| {
        let (all, effort) = (Effort::of(0), Effort::of(2000));
        let found = analysis.look_beside(step(&handbook, id), Answering::InTurn, &effort, &dead);
        assert!(!matches!(found, Found::Answers(_)), "{id}: {found:?}");
        all.take_back(&effort);
        let left = all.lend(2000);
        format!("{left:?}")
    };
    let (first, second) = (spent("aside"), spent("aside"));
    assert_ne!(first, second, "the second search spends less");
}
