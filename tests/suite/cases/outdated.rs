//! What an action or another answer outdates is not read on, and is asked again.

use dryhold::evidence::{Engine, FindingState};
use dryhold::handbook::Handbook;

use super::handbooks::{Bench, handbook};

/// A pump and a rig on it; every number is invented.
const RIG: &str = r"
format: 1
name: Rig
version: 1
questions:
  valve:
    ask: Is the valve open?
    kind: yes/no
    outdates: [rig]
  floor:
    ask: Where does the pump stop?
    kind: pressure
    unit: micron
    range: 0 micron to 9000 micron
    outdates: [stood]
    basis: estimate
  stood:
    ask: For how long has it stood there?
    kind: time
    unit: min
    range: 0 min to 9 h
    basis: estimate
  rig:
    ask: Where does the rig stop?
    kind: pressure
    unit: micron
    range: 0 micron to 9000 micron
    basis: estimate
  rating:
    ask: What is the pump rated for?
    kind: pressure
    unit: micron
    range: 1 micron to 900 micron
    not_sure: 10 micron to 50 micron
    basis: estimate
formulas:
  floor_moved:
    is: abs(floor - previous(floor)) > 50 micron
    basis: estimate
  has_stood:
    is: stood >= 5 min
    basis: estimate
findings:
  floor_high:
    when: floor > 100 micron
    so: The pump stops at {floor}.
    shown_by: {oil: 0.8}
    anyway: 0.1
    basis: estimate
  rig_high:
    when: rig > 2 * floor
    so: The rig stops at {rig} on {floor}.
    shown_by: {leak: 0.8}
    anyway: 0.1
    basis: estimate
  above_rating:
    when: floor > 3 * rating
    so: The floor is {floor}, and the rating {rating}.
    shown_by: {oil: 0.7}
    anyway: 0.1
    basis: estimate
causes:
  oil:
    name: Wet oil
    how_common: 0.2
    because: Water boils off.
    fix: [change_oil]
    cured_by: {change_oil: 0.8, swap_pump: 0.95}
    basis: estimate
  leak:
    name: Leaking hose
    how_common: 0.1
    because: Air comes in.
    basis: estimate
actions:
  change_oil:
    do: Change the oil.
    once_done: the oil was changed
    outdates: [floor, rig]
  swap_pump:
    do: Fit another pump.
    outdates: [floor, rig, rating]
trees:
  look:
    title: Pump and rig
    start: rating
    steps:
      rating: {ask: rating, next: floor}
      floor: {ask: floor, next: rig}
      rig: {ask: rig, next: judge}
      judge: {do: Write down {floor}., next: [{if: floor_high, go: change}, {unknown: lost}, {else: done}]}
      change: {action: change_oil, at_most: 2, then: swap, next: floor}
      swap: {action: swap_pump, next: again}
      again: {ask: floor, again: true, next: wait}
      wait: {do: Wait., next: [{if: floor_high, go: done}, {unknown: lost}, {else: done}]}
      lost: {end: The floor is {floor}.}
      done: {end: The rig was read at {rig}.}
";

fn rig() -> Handbook {
    let quoted = RIG
        .replace("{do: Write down {floor}.,", "{do: 'Write down {floor}.',")
        .replace("{end: The floor is {floor}.}", "{end: 'The floor is {floor}.'}")
        .replace("{end: The rig was read at {rig}.}", "{end: 'The rig was read at {rig}.'}");
    handbook(&quoted)
}

fn state(bench: &Bench<'_>, id: &str) -> FindingState {
    let finding = bench.case.handbook().find_finding(id).unwrap();
    bench.case.assessment().finding(finding).state.clone()
}

fn not_known(bench: &Bench<'_>, id: &str) -> String {
    assert_eq!(state(bench, id), FindingState::Unknown);
    bench.case.finding_says(bench.case.handbook().find_finding(id).unwrap()).lacks.unwrap()
}

/// A bench at the step after the first readings.
fn read<'h>(handbook: &'h Handbook, engine: &'h Engine, floor: &str, rig: &str) -> Bench<'h> {
    let mut bench = Bench::open(handbook, engine, "look");
    bench.answer("rating", "20");
    bench.answer("floor", floor);
    bench.answer("rig", rig);
    bench
}

#[test]
fn a_reading_from_before_an_action_is_not_compared_with_one_after_it() {
    let handbook = rig();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = read(&handbook, &engine, "200", "240");
    assert!(matches!(state(&bench, "rig_high"), FindingState::False(_)));
    bench.done();
    bench.done();
    assert!(matches!(state(&bench, "rig_high"), FindingState::False(_)), "it speaks of before");
    assert_eq!(bench.wanted(), "ask floor", "what is outdated is asked again without `again`");
    bench.answer("floor", "20");
    let why = "`rig` was answered before the oil was changed";
    assert_eq!(not_known(&bench, "rig_high"), why);
    assert_eq!(bench.wanted(), "ask rig");
    bench.answer("rig", "30");
    assert!(matches!(state(&bench, "rig_high"), FindingState::False(_)));
    assert!(matches!(state(&bench, "floor_high"), FindingState::False(_)));
}

#[test]
fn what_was_read_before_a_repair_goes_on_speaking_about_before() {
    let handbook = rig();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = read(&handbook, &engine, "200", "900");
    let leak = handbook.find_cause("leak").unwrap();
    let before = bench.case.assessment().probability(leak);
    bench.done();
    bench.done();
    bench.answer("floor", "20");
    let after = bench.case.assessment().probability(leak);
    assert!(before > 0.3 && after < 0.2, "{before} {after}: no repair touched it, and it is stale");
}

#[test]
fn another_answer_outdates_and_the_same_one_does_not() {
    let handbook = rig();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    bench.answer("valve", "no");
    bench.answer("floor", "20");
    bench.answer("rig", "90");
    bench.answer("valve", "no");
    assert!(matches!(state(&bench, "rig_high"), FindingState::True(_)));
    bench.answer("valve", "yes");
    let why = "`rig` was answered before the answer to `valve` changed";
    assert_eq!(not_known(&bench, "rig_high"), why);
    bench.answer("stood", "9 min");
    let stood = |bench: &Bench<'_>| {
        let sheet = bench.case.worksheet();
        sheet.decides(&handbook.formula(handbook.formula_ids().nth(1).unwrap()).is)
    };
    assert_eq!(stood(&bench), Some(true));
    bench.answer("floor", "30");
    assert_eq!(stood(&bench), None, "the level that stood was another one");
}

#[test]
fn a_look_back_does_not_reach_over_what_outdates() {
    let handbook = rig();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = read(&handbook, &engine, "200", "240");
    let moved = |bench: &Bench<'_>| {
        let sheet = bench.case.worksheet();
        sheet.decides(&handbook.formula(handbook.formula_ids().next().unwrap()).is)
    };
    bench.done();
    bench.done();
    bench.answer("floor", "20");
    assert_eq!(moved(&bench), None);
    bench.answer("floor", "25");
    assert_eq!(moved(&bench), Some(false));
}

#[test]
fn a_setting_of_another_pump_does_not_rewrite_what_was_read_on_the_first() {
    let handbook = rig();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = read(&handbook, &engine, "200", "240");
    bench.done();
    for _ in 0..2 {
        bench.done();
        bench.answer("floor", "200");
        bench.answer("rig", "240");
        bench.done();
    }
    assert_eq!(bench.wanted(), "act swap");
    let said = |bench: &Bench<'_>| {
        let finding = handbook.find_finding("above_rating").unwrap();
        bench.case.finding_says(finding).text.to_text()
    };
    let first = said(&bench);
    bench.done();
    bench.answer("rating", "500");
    assert_eq!(said(&bench), first);
    bench.answer("floor", "200");
    assert!(matches!(state(&bench, "above_rating"), FindingState::False(_)));
}

#[test]
fn a_skipped_reading_is_not_stood_in_for_at_a_later_step() {
    let handbook = rig();
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = read(&handbook, &engine, "200", "240");
    bench.done();
    for _ in 0..2 {
        bench.done();
        bench.answer("floor", "200");
        bench.answer("rig", "240");
        bench.done();
    }
    bench.done();
    assert_eq!(bench.wanted(), "ask floor");
    bench.answer("floor", "skip");
    bench.done();
    assert_eq!(bench.wanted(), "ended");
    let dryhold::case::Now::Ended { done, .. } = bench.case.now() else { panic!("not ended") };
    assert_eq!(done.to_text(), "The floor is not measured since `swap_pump` was done.");
}
