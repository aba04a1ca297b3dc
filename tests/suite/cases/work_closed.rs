//! Ends that close the work: what is settled after them, and what is offered.

use dryhold::case::{Closes, Ending, Event};
use dryhold::evidence::Engine;
use dryhold::report::{About, CaseReport, verdict, verdict_json};

use super::handbooks::{Bench, asked, handbook};

/// Every number is invented.
const SINK: &str = r"
format: 1
name: A sink
version: 1
questions:
  minutes_held: {ask: 'For how long did it hold?', kind: time, range: 0 min to 10 h, basis: estimate}
  drips: {ask: 'Does it drip?', kind: yes/no}
findings:
  held: {when: minutes_held > 60 min, so: 'It held.', so_not: 'It did not hold.', basis: estimate}
  dripped: {when: drips, so: 'It drips.', so_not: 'No drop.', shown_by: {washer: nearly always}, anyway: rarely, basis: estimate}
causes:
  washer: {name: A worn washer, how_common: 0.3, because: Rubber hardens., basis: estimate}
  seat: {name: A worn seat, how_common: 0.3, because: Grit cuts., basis: estimate}
trees:
  look:
    title: Does it hold?
    start: first
    steps:
      first: {ask: drips, next: hold}
      hold: {ask: minutes_held, next: [{if: held, go: proved}, {too_close: open}, {unknown: told}, {else: open}]}
      proved: {end: It held for an hour., closes: proved}
      told: {end: The owner was told., closes: done}
      open: {end: It did not hold for an hour.}
  plan:
    title: Before the sink
    start: ready
    steps:
      ready: {end: Shut the water first. Then look., closes: planned, then: [look]}
  leave:
    title: Leave the sink
    start: seen
    steps:
      seen: {ask: drips, next: left}
      left: {end: The water is shut. A bucket stands below it., closes: waits, then: [look], cautions: [cold]}
cautions:
  cold: {severity: caution, text: Frost bursts what is full., refer: the plumber}
";

fn told(bench: &Bench<'_>) -> (String, serde_json::Value) {
    let lines = verdict(&bench.case, &Ending::Done);
    let text: Vec<String> = lines.iter().map(|line| line.to_text()).collect();
    (text.join("\n"), verdict_json(&bench.case, &Ending::Done))
}

#[test]
fn a_passed_proof_is_settled_and_leaves_nothing_to_check() {
    asked(SINK, &[("drips", "no"), ("minutes_held", "90 min")], |bench| {
        assert!(!bench.case.assessment().settled, "the seat may be worn");
        assert!(bench.case.is_settled());
        let (text, json) = told(bench);
        assert!(text.starts_with("Verdict\nIt held for an hour."), "{text}");
        assert!(text.contains("Beyond that proof: not all was read in this case"), "{text}");
        // One sentence says what was proved; there is nothing more to do.
        assert!(text.contains("\n- This way ends here. Keep the record.\n"), "{text}");
        assert!(!text.contains("What to check next"), "{text}");
        assert_eq!((&json["settled"], &json["closes"]), (&true.into(), &"proved".into()));
    });
}

#[test]
fn a_way_that_is_done_is_no_proof() {
    for drips in ["no", "not sure"] {
        asked(SINK, &[("drips", drips), ("minutes_held", "not sure")], |bench| {
            assert_eq!(bench.case.work_closed(), Some(Closes::Done), "{drips}");
            assert!(!bench.case.is_settled());
            let (text, json) = told(bench);
            assert!(text.contains("The owner was told.") && text.contains("This way ends here."));
            assert!(!text.contains("no verdict") && !text.contains("Beyond that proof"), "{text}");
            assert_eq!((&json["settled"], &json["closes"]), (&false.into(), &"done".into()));
        });
    }
}

#[test]
fn an_end_closes_nothing_where_a_cause_leads() {
    asked(SINK, &[("drips", "yes"), ("minutes_held", "90 min")], |bench| {
        assert_eq!(bench.case.closes(), Some(Closes::Proved));
        assert_eq!(bench.case.work_closed(), None);
        let (text, _) = told(bench);
        assert!(!text.contains("This way ends here."), "{text}");
    });
}

#[test]
fn a_plan_closes_as_a_plan_and_is_told_again_once_the_work_goes_on() {
    let handbook = handbook(SINK);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "plan");
    assert_eq!(bench.case.work_closed(), Some(Closes::Planned));
    let (text, json) = told(&bench);
    assert!(text.starts_with("Verdict\nShut the water first. Then look.\n"), "{text}");
    assert!(text.contains("- Go on with \"Does it hold?\"."), "{text}");
    assert!(!text.contains("no verdict") && !text.contains("The plan of this job"), "{text}");
    assert_eq!((&json["settled"], &json["closes"]), (&false.into(), &"planned".into()));
    bench.case.apply(Event::WentOn { tree: "look".to_owned() }).unwrap();
    bench.answer("drips", "yes");
    let (text, _) = told(&bench);
    assert!(text.contains("\nThe plan of this job\nShut the water first. Then look.\n"), "{text}");
    let about = About::default();
    let report = CaseReport::of(&bench.case, &about);
    assert!(report.sections().iter().any(|section| section.heading == "The plan of this job"));
}

#[test]
fn work_that_was_left_proposes_nothing_and_is_told_on_coming_back() {
    let handbook = handbook(SINK);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "leave");
    bench.answer("drips", "yes");
    assert_eq!(bench.case.work_closed(), Some(Closes::Waits), "whatever leads");
    let here: Vec<String> = bench.case.cautions_here().into_iter().map(|view| view.id).collect();
    assert_eq!(here, ["cold"], "an end has its cautions too");
    let (text, json) = told(&bench);
    assert!(text.starts_with("Verdict\nThe water is shut. A bucket stands below it.\n"), "{text}");
    let last = "- Do what stands first under \"Verdict\" above. Nothing more is done before \
                somebody comes back to it.";
    assert!(text.contains(&format!("What to do now\n{last}\n")), "{text}");
    assert!(text.contains("- Once somebody has: \"Does it hold?\"."), "{text}");
    assert!(!text.contains("Go on with"), "one thing is to be done, and no other: {text}");
    for work in ["What to check next", "What to do about it", "What would change this"] {
        assert!(!text.contains(work), "it sends back to work: {text}");
    }
    assert_eq!(json["closes"], "waits");
    bench.case.apply(Event::WentOn { tree: "look".to_owned() }).unwrap();
    bench.answer("minutes_held", "5 min");
    let (text, _) = told(&bench);
    assert!(text.contains("\nHow it was left\nThe water is shut. A bucket"), "{text}");
}

#[test]
fn the_odds_after_a_proof_take_nothing_back_of_it() {
    asked(SINK, &[("drips", "no"), ("minutes_held", "90 min")], |bench| {
        let (text, _) = told(bench);
        assert!(!text.contains("that something is"), "it frightens who asked for a proof: {text}");
        assert!(text.contains("they take nothing back of what was proved."), "{text}");
    });
}

#[test]
fn an_end_that_says_nothing_of_the_work_closes_nothing() {
    asked(SINK, &[("drips", "no"), ("minutes_held", "5 min")], |bench| {
        assert_eq!(bench.case.closes(), None);
        let (text, json) = told(bench);
        assert!(!text.contains("This way ends here.") && json["closes"].is_null(), "{text}");
    });
}
