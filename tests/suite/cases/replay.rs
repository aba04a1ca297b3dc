//! A case replays from its events, to the bit.

use dryhold::case::{Case, Ending, KeepNothing, Script, interview};
use dryhold::evidence::Engine;
use dryhold::report::verdict_json;

use super::handbooks::{Bench, PUMP, handbook, handbook_at};

#[test]
fn events_written_and_read_give_the_same_verdict_to_the_bit() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.answer("charged", "no");
    bench.answer("target", "not sure");
    bench.done();
    bench.acknowledge("hot");
    bench.answer("floor", "180 +- 3 micron");
    let text = serde_json::to_string(bench.case.events()).unwrap();
    let events: Vec<dryhold::case::Event> = serde_json::from_str(&text).unwrap();
    let again = Case::replay(&handbook, &engine, &events).unwrap();
    let json = |case: &Case<'_>| verdict_json(case, &Ending::Left).to_string();
    assert_eq!(json(&again), json(&bench.case));
    assert_eq!(again.now(), bench.case.now());
}

#[test]
fn the_miniature_scenario_comes_out_as_expected() {
    let handbook = handbook_at("tests/fixtures/miniature/rules");
    let engine = Engine::new(&handbook).unwrap();
    let path = format!(
        "{}/tests/fixtures/miniature/scenarios/dripping_tap.yaml",
        env!("CARGO_MANIFEST_DIR")
    );
    let mut sources = dryhold::source::Sources::default();
    let id = sources.add("dripping_tap.yaml", std::fs::read_to_string(path).unwrap());
    let (raw, faults) = dryhold::document::raw::read_scenario(&sources, id);
    assert_eq!(faults, []);
    let scenario = dryhold::rehearsal::resolve_scenario(
        &raw.unwrap(),
        &handbook,
        &dryhold::rehearsal::no_logs,
    )
    .unwrap();
    let rehearsed = dryhold::rehearsal::rehearse(&scenario, &handbook, &engine);
    assert_eq!(rehearsed.misses, []);
}

#[test]
fn a_script_that_does_not_acknowledge_is_stopped() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut case = Case::open(&handbook, &engine, handbook.find_tree("bench").unwrap());
    let answers = [("charged", "no"), ("target", "300 micron"), ("floor", "30 micron")]
        .map(|(id, typed)| (handbook.find_question(id).unwrap(), vec![typed.to_owned()]));
    let mut script = Script::new(answers, []);
    let ending = interview(&mut case, &mut script, &mut KeepNothing);
    assert_eq!(ending, Ending::Stopped(handbook.find_caution("hot")));
}

/// Hoses, looked at one by one. Every number is invented.
const HOSES: &str = r"
format: 1
name: Hoses
version: 1
questions:
  old: {ask: 'Are they old?', kind: yes/no}
  hose: {ask: 'Which hose is next?', kind: text}
  damp: {ask: 'Is it damp?', kind: yes/no}
findings:
  is_damp: {when: damp, so: 'It is damp.', so_not: 'It is dry.', shown_by: {wet: usually}, anyway: 0.1, basis: estimate}
causes:
  wet: {name: A wet hose, how_common: 0.1, because: Rain wets hoses., fix: [dry], basis: estimate}
actions:
  dry: {do: Dry it., takes: 20 min}
trees:
  look: {title: Hoses, start: first, steps: {first: {ask: old, next: over}, over: {end: Looked at., then: [each]}}}
  apart: {title: Their age, start: first, steps: {first: {ask: old, next: over}, over: {end: Looked at.}}}
  each: {title: Each hose, rounds: hose, start: first, steps: {first: {ask: damp, next: over}, over: {end: Looked at.}}}
";

/// A word that only ends the rounds is no name where nothing asks for one; what names a hose is.
#[test]
fn a_word_that_ends_rounds_is_no_name_of_a_part() {
    let handbook = handbook(HOSES);
    let engine = Engine::new(&handbook).unwrap();
    let hose = handbook.find_question("hose").unwrap();
    let named = |tree: &str, typed: &[&str]| {
        let mut case = Case::open(&handbook, &engine, handbook.find_tree(tree).unwrap());
        let answers = typed.iter().map(|&typed| typed.to_owned()).collect();
        interview(&mut case, &mut Script::new([(hose, answers)], []), &mut KeepNothing);
        case.answers(hose).map(|given| given.typed.clone()).collect::<Vec<_>>()
    };
    for tree in ["look", "apart"] {
        for word in ["no more", "none", "No"] {
            assert_eq!(named(tree, &[word]), Vec::<String>::new(), "{tree}: {word}");
            assert_eq!(named(tree, &["yellow", word]), ["yellow"], "{tree}: {word}");
        }
    }
}
