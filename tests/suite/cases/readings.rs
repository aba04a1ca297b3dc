//! The readings of a hold as an answer.

use dryhold::case::{Case, Ending, Reply, read_answer};
use dryhold::evidence::{Engine, FindingState};
use dryhold::handbook::Handbook;
use dryhold::report::verdict_json;

use super::handbooks::{Bench, handbook};

/// A vessel that is shut; every number is invented.
const HOLD: &str = include_str!("../../fixtures/hold/hold.yaml");

const LEAK: &str = "0 min 300, 5 min 402, 10 min 497, 15 min 603, 20 min 701, 25 min 798";

fn state(bench: &Bench<'_>, handbook: &Handbook, finding: &str) -> FindingState {
    let id = handbook.find_finding(finding).unwrap();
    bench.case.assessment().finding(id).state.clone()
}

#[test]
fn six_readings_of_a_leak_are_evidence_for_one() {
    let handbook = handbook(HOLD);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "start");
    let before = bench.probability("leak");
    bench.answer("hold", LEAK);
    assert!(matches!(state(&bench, &handbook, "steady"), FindingState::True { .. }));
    assert!(bench.probability("leak") > before + 0.2);
    let question = handbook.question(handbook.find_question("hold").unwrap());
    let echo = read_answer(question, None, LEAK).unwrap().echo;
    assert_eq!(echo, "6 readings over 25 min, 300 micron to 798 micron");
}

#[test]
fn a_fall_leaves_the_finding_out_and_a_second_hold_takes_its_place() {
    let handbook = handbook(HOLD);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "start");
    let before = bench.probability("leak");
    bench.answer("hold", "902, 798, 701, 603, 497, 400 micron every 5 min");
    let steady = state(&bench, &handbook, "steady");
    assert!(matches!(steady, FindingState::NotApplicable), "{steady:?}");
    assert_eq!(bench.probability("leak").to_bits(), before.to_bits());
    bench.answer("hold", LEAK);
    assert!(matches!(state(&bench, &handbook, "steady"), FindingState::True { .. }));
}

#[test]
fn a_case_with_readings_replays_to_the_bit() {
    let handbook = handbook(HOLD);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "start");
    bench.answer("hold", LEAK);
    let written = serde_json::to_string(bench.case.events()).unwrap();
    let events: Vec<dryhold::case::Event> = serde_json::from_str(&written).unwrap();
    let again = Case::replay(&handbook, &engine, &events).unwrap();
    let json = |case: &Case<'_>| verdict_json(case, &Ending::Left).to_string();
    assert_eq!(json(&again), json(&bench.case));
}

#[test]
fn readings_that_can_not_be_taken_are_told_with_a_mend() {
    let handbook = handbook(HOLD);
    let question = handbook.question(handbook.find_question("hold").unwrap());
    let refused = |typed: &str| read_answer(question, None, typed).unwrap_err().message;
    assert_eq!(
        refused("400"),
        "no readings with their times were found; type them such as `0 min 400, 5 min 430`"
    );
    for list in ["420, 455, 480, 498 micron", "420 455 480 498", "420\n455\n480"] {
        assert!(refused(list).ends_with("how far apart they are: add `every 5 min`"), "{list}");
    }
    assert!(refused("0 min 300, 5 min 30000").starts_with("one of the readings: "));
    assert!(refused("").contains("0 min 400"));
    let odd = read_answer(question, None, "0 min 0.3, 5 min 0.4, 10 min 0.5").unwrap();
    assert!(odd.slip.unwrap().message.contains("lower than a service gauge shows"));
    let dropped = "0 min 300, 5 min 402, 10 min 50, 15 min 603, 20 min 701, 25 min 798";
    let odd = read_answer(question, None, dropped).unwrap();
    assert_eq!(
        odd.slip.unwrap().message,
        "reading 3, 50 micron after 402 micron, contradicts those beside it"
    );
    let read = read_answer(question, None, "0 min 300, 5 min OL, 10 min 400").unwrap();
    assert!(matches!(read.reply, Reply::Readings { ref times, .. } if times == &[0.0, 600.0]));
}
