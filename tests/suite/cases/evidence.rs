//! Evidence: the order of answers, repairs, not sure, margins.

use dryhold::evidence::{Engine, FindingState};

use super::handbooks::{Bench, PUMP, handbook};

#[test]
fn the_order_of_answers_does_not_matter() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let answers = [("target", "300 micron"), ("floor", "103 micron"), ("with_part", "125 micron")];
    let orders: [[usize; 3]; 3] = [[0, 1, 2], [2, 0, 1], [1, 2, 0]];
    let mut found = Vec::new();
    for order in orders {
        let mut bench = Bench::open(&handbook, &engine, "bench");
        bench.acknowledge("hot");
        for place in order {
            let (id, typed) = answers[place];
            bench.answer(id, typed);
        }
        found.push(["oil", "worn", "part_leak"].map(|cause| bench.probability(cause).to_bits()));
    }
    assert_eq!(found[0], found[1]);
    assert_eq!(found[0], found[2]);
}

#[test]
fn an_observation_not_sure_of_is_no_evidence() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.acknowledge("hot");
    bench.answer("target", "300 micron");
    let before = bench.probability("oil");
    bench.answer("floor", "not sure");
    assert_eq!(bench.probability("oil").to_bits(), before.to_bits());
    let id = handbook.find_finding("floor_high").unwrap();
    assert_eq!(bench.case.assessment().finding(id).state, FindingState::Unknown);
    let why = bench.case.finding_says(id).lacks.unwrap();
    assert!(why.contains("not sure"), "{why}");
}

/// How probable the oil was, and is, once the pump read high, the oil was changed and it read
/// low: enumerated over the oil, what is left of it, and the wear, with the handbook's numbers.
fn oil_by_enumeration() -> (f64, f64) {
    let low = |oil: bool, worn: bool| {
        let share = |is_there: bool, alone: f64| if is_there { (1.0 - alone) / 0.95 } else { 1.0 };
        0.95 * share(oil, 0.9) * share(worn, 0.8)
    };
    let chance = |is_there: bool, p: f64| if is_there { p } else { 1.0 - p };
    let (mut was, mut is, mut all) = (0.0, 0.0, 0.0);
    for (oil, left, worn) in (0..8).map(|bits| (bits & 1 > 0, bits & 2 > 0, bits & 4 > 0)) {
        let stays = if oil { 0.15 } else { 0.0 };
        let prior = chance(oil, 0.2) * chance(left, stays) * chance(worn, 0.05);
        let weight = prior * (1.0 - low(oil, worn)) * low(left, worn);
        all += weight;
        was += if oil { weight } else { 0.0 };
        is += if left { weight } else { 0.0 };
    }
    (was / all, is / all)
}

#[test]
fn a_repair_tells_what_was_from_what_is() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.answer("charged", "no");
    bench.answer("target", "300 micron");
    bench.done();
    bench.acknowledge("hot");
    bench.answer("floor", "900 micron");
    let oil_before = bench.probability("oil");
    assert!(oil_before > 0.6, "{oil_before}");
    bench.done();
    let oil_after_change = bench.probability("oil");
    assert!((oil_after_change / oil_before - 0.15).abs() < 1e-9, "what the cure leaves over");
    assert!((bench.was("oil") - oil_before).abs() < 1e-9);
    bench.done();
    bench.answer("floor", "30 micron");
    let (was, is) = oil_by_enumeration();
    assert!((bench.was("oil") - was).abs() < 1e-12, "{} {was}", bench.was("oil"));
    assert!((bench.probability("oil") - is).abs() < 1e-12);
}

#[test]
fn a_comparison_says_by_how_much() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.acknowledge("hot");
    bench.answer("target", "300 micron");
    let news = bench.answer("floor", "112 micron");
    let said: Vec<String> = news.computed.iter().map(|line| line.to_text()).collect();
    assert_eq!(
        said,
        [
            "The floor is 112 micron, above 100 micron. That is 12 +- 5 micron above the limit (100 micron: the target of 300 micron divided by 3)."
        ]
    );
}

#[test]
fn a_reading_near_the_limit_is_too_close_and_counts_half() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.acknowledge("hot");
    bench.answer("target", "300 micron");
    let at = |bench: &mut Bench<'_>, reading: &str| {
        bench.answer("floor", reading);
        bench.probability("oil")
    };
    let low = at(&mut bench, "90 micron");
    let near = at(&mut bench, "100 micron");
    let high = at(&mut bench, "110 micron");
    assert!(low < near && near < high, "{low} {near} {high}");
}
