//! Where two readings can't both be, neither is believed until they are read again.

use dryhold::case::{Ending, Event, Now};
use dryhold::evidence::{Engine, FindingState};
use dryhold::report::verdict;

use super::handbooks::{Bench, handbook};

/// A pump and the system that it pulls on; every number is invented.
pub(super) const LEVELS: &str = r"
format: 1
name: Levels
version: 1
questions:
  floor:
    ask: Where does the pump stop on its own?
    say: Where does it stop alone?
    kind: pressure
    unit: micron
    range: 0 micron to 9000 micron
    basis: estimate
  level:
    ask: Where does the system stand?
    kind: pressure
    unit: micron
    range: 0 micron to 9000 micron
    basis: estimate
  noise:
    ask: Does the pump knock?
    kind: yes/no
findings:
  floor_high:
    when: floor > 100 micron
    so: The pump stops at {floor}.
    so_not: The pump goes low.
    shown_by: {worn: 0.9}
    anyway: 0.1
    basis: estimate
  knocks:
    when: noise
    so: It knocks.
    so_not: It doesn't knock.
    shown_by: {worn: 0.5}
    anyway: 0.1
    basis: estimate
  below_the_pump:
    name: the system stands below its pump
    when: level < 0.8 * floor
    so: The system at {level} and the pump at {floor} can't both be.
    so_not: Both levels can be.
    read_again: [floor, level]
    basis: estimate
causes:
  worn:
    name: Worn pump
    how_common: 0.2
    because: Gas slips back.
    basis: estimate
trees:
  look:
    title: Pump and system
    start: floor
    steps:
      floor: {ask: floor, again: true, next: level}
      level: {ask: level, again: true, next: done}
      done: {end: The levels were read.}
";

fn state(bench: &Bench<'_>, id: &str) -> FindingState {
    let finding = bench.case.handbook().find_finding(id).unwrap();
    bench.case.assessment().finding(finding).state.clone()
}

fn told(bench: &Bench<'_>) -> Vec<String> {
    verdict(&bench.case, &Ending::Done).iter().map(dryhold::text::Line::to_text).collect()
}

#[test]
fn readings_that_can_not_be_say_nothing_until_read_again() {
    let handbook = handbook(LEVELS);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    let before = bench.probability("worn");
    bench.answer("floor", "700");
    assert!(matches!(state(&bench, "floor_high"), FindingState::True(_)));
    let with = bench.probability("worn");
    bench.answer("level", "180");
    assert!(matches!(state(&bench, "below_the_pump"), FindingState::True(_)));
    assert_eq!(state(&bench, "floor_high"), FindingState::NotApplicable);
    let why = bench.case.finding_says(handbook.find_finding("floor_high").unwrap()).lacks;
    let wanted = "the system stands below its pump, and that has to be cleared up first";
    assert_eq!(why.as_deref(), Some(wanted));
    assert!(with > 0.6 && (bench.probability("worn") - before).abs() < 1e-12);
    bench.answer("level", "900");
    assert!((bench.probability("worn") - with).abs() < 1e-12, "now both can be");
}

#[test]
fn what_can_not_be_comes_first_and_is_read_again_before_all_else() {
    let handbook = handbook(LEVELS);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    bench.answer("noise", "no");
    bench.answer("floor", "700");
    bench.answer("level", "180");
    let told = told(&bench);
    assert_eq!(told[0], "Verdict");
    assert!(told[1].starts_with("The system at 180 micron and the pump at 700 micron"), "{told:?}");
    assert!(told[2].starts_with("Read again first: Where does the pump stop"), "{told:?}");
    assert_eq!(told[3], "The levels were read.");
    let next = told.iter().position(|line| line == "What to check next").unwrap();
    let wanted = "- Read again, before anything else: Where does the pump stop on its own? Where \
                  does the system stand?";
    assert_eq!(told[next + 1], wanted);
    assert!(!told.iter().any(|line| line.contains("settles the case") && line.contains("floor")));
}

/// Nobody said 560: the line says what it is made of.
#[test]
fn a_limit_that_nobody_has_told_says_what_it_is_made_of() {
    let handbook = handbook(LEVELS);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    bench.answer("floor", "700");
    bench.answer("level", "180");
    let finding = bench.case.handbook().find_finding("below_the_pump").unwrap();
    let margin = bench.case.finding_says(finding).margin.unwrap().to_text();
    assert_eq!(margin, "380 micron below 560 micron (0.8 times the floor of 700 micron)");
}

/// A figure that is worked out and that nobody can be told the making of tells nobody anything.
#[test]
fn a_limit_out_of_a_longer_sum_is_not_told() {
    let text = LEVELS.replace("0.8 * floor", "max(0.8 * floor, floor ^ 2 / (1000 micron))");
    assert_ne!(text, LEVELS);
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    bench.answer("floor", "700");
    bench.answer("level", "180");
    let finding = bench.case.handbook().find_finding("below_the_pump").unwrap();
    let said = bench.case.finding_says(finding);
    assert!(said.margin.is_none(), "{said:?}");
    assert!(said.text.to_text().starts_with("The system at 180 micron"), "{said:?}");
}

/// What is wrong rests on one of the two, so nothing is repaired before they are read again.
#[test]
fn nothing_is_repaired_while_two_readings_can_not_be() {
    let text = LEVELS
        .replace("    because: Gas slips back.\n", "    because: Gas slips back.\n    fix: [rebuild]\n")
        .replace("trees:\n", "actions:\n  rebuild:\n    do: Rebuild it.\n    takes: 20 min\n    basis: estimate\ntrees:\n")
        .replace("    read_again:", "    shown_by: {worn: 0.9}\n    anyway: 0.01\n    read_again:");
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    bench.answer("noise", "yes");
    bench.answer("floor", "700");
    bench.answer("level", "180");
    let is_proposed =
        |bench: &Bench<'_>| told(bench).iter().any(|line| line.contains("Rebuild it."));
    assert!(bench.probability("worn") > 0.5, "{}", bench.probability("worn"));
    assert!(!is_proposed(&bench), "{:?}", told(&bench));
    bench.answer("level", "900");
    assert!(bench.probability("worn") > 0.5, "{}", bench.probability("worn"));
    assert!(is_proposed(&bench), "{:?}", told(&bench));
}

#[test]
fn nothing_leads_while_readings_can_not_all_be() {
    let handbook = handbook(LEVELS);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    bench.answer("floor", "900 micron");
    bench.answer("level", "400 micron");
    bench.answer("noise", "yes");
    let lines = verdict(&bench.case, &Ending::Done);
    let said: Vec<String> = lines.iter().map(|line| line.to_text()).collect();
    assert!(said[1].ends_with("can't both be."), "{said:?}");
    let first = "Read again first: Where does the pump stop on its own? Where does the system \
                 stand? Until then nothing leads.";
    assert_eq!(said[2], first);
    let leads = |line: &String| line.starts_with("Settled") || line.starts_with("Not settled");
    assert!(!said.iter().any(leads), "{said:?}");
    let so_far = dryhold::report::ranking_line(&bench.case).to_text();
    assert!(
        so_far.starts_with("So far: two readings can't both be. Read again first:"),
        "{so_far}"
    );
    // Read again, it leads to a verdict as always.
    bench.answer("floor", "300 micron");
    let lines = verdict(&bench.case, &Ending::Done);
    assert!(lines.iter().any(|line| leads(&line.to_text())));
}

/// What would lead rests on a part of what was read: a row of odds would be taken for an answer.
#[test]
fn no_ranking_stands_beside_readings_that_can_not_be() {
    let handbook = handbook(LEVELS);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "look");
    bench.answer("noise", "no");
    bench.answer("floor", "700");
    assert!(told(&bench).iter().any(|line| line == "Ranking"));
    bench.answer("level", "180");
    assert!(!told(&bench).iter().any(|line| line == "Ranking"), "{:?}", told(&bench));
}

/// The levels, with oil that the tree has drained where the pump knocks.
fn drained() -> String {
    LEVELS
        .replace(
            "read_again: [floor, level]",
            "read_again: [floor, level]\n    holds_back: [drain]",
        )
        .replace(
            "trees:\n",
            "cautions:\n  hot: {severity: note, text: The oil is hot.}\n\
             actions:\n  drain:\n    do: Drain the oil.\n    takes: 20 min\n    \
             once_done: the oil was drained\n    cautions: [hot]\n    outdates: [floor, level]\n    basis: estimate\n\
             trees:\n  drain:\n    title: The oil\n    start: floor\n    steps:\n      \
             floor: {ask: floor, again: true, next: noise}\n      \
             noise: {ask: noise, again: true, next: drain}\n      \
             drain: {action: drain, next: drained}\n      \
             drained: {end: The oil was drained.}\n",
        )
}

fn ended(bench: &Bench<'_>) -> String {
    match bench.case.now() {
        Now::Ended { done, .. } => done.to_text(),
        other => format!("{other:?}"),
    }
}

const WAITS: &str = "Not done yet: nobody has said that the oil was drained. Readings contradict \
                     each other, so it waits until they have been read again.";

/// The level is told in passing, where the tree asks for something else.
#[test]
fn no_step_calls_for_what_a_contradiction_holds_back() {
    let handbook = handbook(&drained());
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "drain");
    bench.answer("floor", "700");
    bench.answer("level", "180");
    bench.answer("noise", "yes");
    assert_eq!(ended(&bench), WAITS);
    assert!(bench.case.cautions_here().is_empty());
    assert!(told(&bench).iter().any(|line| line == WAITS), "{:?}", told(&bench));
    // Read again, the way behind it stays as it was, and the work is called for in its turn.
    bench.answer("floor", "30");
    assert_eq!(ended(&bench), WAITS);
    bench.case.apply(Event::WentOn { tree: "drain".to_owned() }).unwrap();
    bench.answer("floor", "40");
    bench.answer("noise", "yes");
    assert!(matches!(bench.case.now(), Now::Act { .. }), "{:?}", bench.case.now());
    assert_eq!(bench.case.cautions_here().len(), 1);
    bench.done();
    assert_eq!(ended(&bench), "The oil was drained.");
}

#[test]
fn what_is_told_while_work_waits_holds_it_back_and_what_is_told_later_does_not() {
    let handbook = handbook(&drained());
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "drain");
    bench.answer("floor", "700");
    bench.answer("noise", "yes");
    assert!(matches!(bench.case.now(), Now::Act { .. }));
    bench.answer("level", "180");
    assert_eq!(ended(&bench), WAITS);

    let mut bench = Bench::open(&handbook, &engine, "drain");
    bench.answer("floor", "700");
    bench.answer("noise", "yes");
    bench.done();
    bench.answer("floor", "700");
    bench.answer("level", "180");
    assert_eq!(state(&bench, "below_the_pump"), FindingState::True(1.0));
    assert_eq!(ended(&bench), "The oil was drained.");
}
