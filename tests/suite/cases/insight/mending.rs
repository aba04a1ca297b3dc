//! The order of repairs with what they need, and what the past adds.

use dryhold::case::Event;
use dryhold::evidence::{Engine, RepairStep};
use dryhold::handbook::Handbook;

use super::pump::HANDBOOK;
use super::{Bench, answered, answers, handbook};

pub fn act(bench: &mut Bench<'_>, action: &str) {
    let (tree, step) = ("pump".to_owned(), "mend".to_owned());
    bench.apply(Event::Acted { action: action.to_owned(), tree, step });
}

pub fn change_oil(bench: &mut Bench<'_>) {
    act(bench, "change_oil");
}

pub fn named<'h>(handbook: &'h Handbook, step: &RepairStep) -> &'h str {
    &handbook.action(step.action).id
}

fn step<'s>(handbook: &Handbook, steps: &'s [RepairStep], action: &str) -> &'s RepairStep {
    steps.iter().find(|step| named(handbook, step) == action).unwrap()
}

#[test]
fn a_repair_is_prepared_by_the_quickest_that_leaves_what_it_needs() {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = answered(&handbook, &engine, &answers(&[("reads_high", "yes")]));
    let cold = bench.case.insight().repairs.steps;
    let [oil, joint] = ["change_oil", "tighten"].map(|id| step(&handbook, &cold, id));
    assert_eq!(oil.first, [handbook.find_action("run_warm").unwrap()]);
    assert_eq!(joint.first, []);
    // Each is tested again for 10 minutes; what nothing leaves is for the person to see to.
    assert!((oil.minutes - (6.0 + 10.0 + 10.0)).abs() < 1e-9, "{oil:?}");
    assert!((joint.minutes - (15.0 + 10.0)).abs() < 1e-9, "{joint:?}");
    act(&mut bench, "run_long");
    let warm = bench.case.insight().repairs.steps;
    let oil = step(&handbook, &warm, "change_oil");
    assert_eq!(oil.first, []);
    assert!((oil.minutes - (10.0 + 10.0)).abs() < 1e-9, "{oil:?}");
}

/// What a repair of the handbook costs with the test after it; those made have left it warm or not.
fn minutes(action: &str, made: &[&str]) -> f64 {
    let is_warm = made.contains(&"change_oil") || made.contains(&"heat");
    let warming = if is_warm { 0.0 } else { 6.0 };
    match action {
        "change_oil" => 10.0 + 10.0 + warming,
        "heat" => 60.0 + 10.0 + warming,
        "tighten" => 15.0 + 10.0,
        _ => 600.0 + 10.0,
    }
}

/// By the states themselves: after each repair every state is left by what cures all of it.
#[test]
fn repairs_stand_in_the_order_of_what_they_mend_a_minute() {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    let cases = [
        answers(&[("reads_high", "yes")]),
        answers(&[("reads_high", "yes"), ("looks", "clear"), ("rises", "yes")]),
        answers(&[("looks", "milky")]),
    ];
    for given in cases {
        let bench = answered(&handbook, &engine, &given);
        let sheet = bench.case.worksheet();
        let evidence: Vec<_> =
            dryhold::evidence::gather(&engine, &dryhold::evidence::witnesses(&sheet))
                .into_iter()
                .map(|piece| piece.evidence)
                .collect();
        let states = engine.network().posterior(&[], &evidence).unwrap().states;
        let faulty = 1.0 - states[0];
        // Oil, seal, joint, damp: how often the repair that was made cures each.
        let cures = [("change_oil", 0.8), ("change_seal", 0.8), ("tighten", 0.9), ("heat", 0.7)];
        let restored = |made: &[&str]| -> f64 {
            let cured =
                |cause: usize| if made.contains(&cures[cause].0) { cures[cause].1 } else { 0.0 };
            let all = |state: usize| -> f64 {
                (0..4).filter(|cause| state & (1 << cause) != 0).map(cured).product()
            };
            states.iter().enumerate().skip(1).map(|(state, p)| p * all(state)).sum()
        };
        let steps = bench.case.insight().repairs.steps;
        assert!(!steps.is_empty());
        let mut made: Vec<&str> = Vec::new();
        for step in &steps {
            let before = restored(&made);
            let gain = |more: &&str| {
                (restored(&[&made[..], &[more]].concat()) - before) / (faulty - before)
            };
            let id = named(&handbook, step);
            assert!((step.mends - gain(&id)).abs() < 1e-9, "{id}: {step:?}");
            let minutes = minutes(id, &made);
            assert!((step.minutes - minutes).abs() < 1e-9, "{id} for {minutes}: {step:?}");
            let worth = step.mends / minutes;
            for other in steps.iter().map(|s| named(&handbook, s)).filter(|s| !made.contains(s)) {
                assert!(gain(&other) / self::minutes(other, &made) <= worth + 1e-12);
            }
            made.push(id);
            assert!((step.restored - restored(&made) / faulty).abs() < 1e-9, "{id}: {step:?}");
        }
        // Ten hours for a rare seal: calling somebody in is cheaper.
        assert!(!made.contains(&"change_seal"), "{made:?}");
    }
}

#[test]
fn the_past_is_told_where_it_is_known_and_counts() {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    let past = |pairs: &[(&str, &str)]| {
        let bench = answered(&handbook, &engine, &answers(pairs));
        let past = bench.case.insight().past;
        let told = past.iter().map(|one| {
            let when = handbook.symbol_name(one.when).to_owned();
            (handbook.cause(one.cause).id.clone(), when, one.factor)
        });
        (told.collect::<Vec<_>>(), bench.probability("oil"), bench.probability("damp"))
    };
    let told = |cause: &str, when: &str, factor| (cause.to_owned(), when.to_owned(), factor);
    let odds = |p: f64| p / (1.0 - p);
    let (none, oil, damp) = past(&[("old", "no"), ("dry_store", "not sure")]);
    assert_eq!(none, []);
    assert!((oil - 0.3).abs() < 1e-12 && (damp - 0.15).abs() < 1e-12);
    let (both, older, drier) = past(&[("old", "yes"), ("dry_store", "yes")]);
    assert_eq!(both, [told("oil", "old", 2.0), told("damp", "dry_store", 0.25)]);
    assert!((odds(older) - 2.0 * odds(oil)).abs() < 1e-12);
    assert!((odds(drier) - 0.25 * odds(damp)).abs() < 1e-12);
}

/// The later reading of the same thing takes the place of the earlier one where nothing that it
/// shows has been repaired between them.
#[test]
fn what_no_repair_touched_is_seen_once() {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    for (action, question, typed) in [
        ("run_long", "looks", "milky"),
        ("tighten", "looks", "milky"),
        ("run_long", "reads_high", "yes"),
        ("change_oil", "bubbles", "yes"),
    ] {
        let mut bench = answered(&handbook, &engine, &answers(&[(question, typed)]));
        act(&mut bench, action);
        let before = ["oil", "seal", "joint", "damp"].map(|cause| bench.probability(cause));
        bench.answer(question, typed);
        let after = ["oil", "seal", "joint", "damp"].map(|cause| bench.probability(cause));
        for (before, after) in before.into_iter().zip(after) {
            assert!((before - after).abs() < 1e-12, "{question} after {action}: {before} {after}");
        }
    }
}
