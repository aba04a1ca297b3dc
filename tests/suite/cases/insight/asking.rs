//! The tests worth making next, and when a case is settled.

use dryhold::evidence::network::Evidence;
use dryhold::evidence::{Engine, NextTest, SETTLED_AT};
use dryhold::handbook::Handbook;

use super::pump::{HANDBOOK, two_faults};
use super::{answer_for, answered, answers, handbook};

fn questions(handbook: &Handbook, test: &NextTest) -> Vec<String> {
    test.questions.iter().map(|id| handbook.question(*id).id.clone()).collect()
}

fn findings(test: &NextTest) -> Vec<usize> {
    test.findings.iter().map(|finding| finding.index()).collect()
}

#[test]
fn a_tree_is_one_test_beside_its_questions() {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    let bench = answered(&handbook, &engine, &answers(&[("reads_high", "yes")]));
    let tests = bench.case.insight().tests;
    let find = |ids: &[&str]| tests.iter().find(|test| questions(&handbook, test) == ids).unwrap();
    let (bubbles, rises) = (find(&["bubbles"]), find(&["rises"]));
    let tree = find(&["bubbles", "rises"]);
    assert_eq!((bubbles.tree, rises.tree), (None, None));
    assert_eq!(tree.tree, handbook.find_tree("joints"));
    let mut both = findings(tree);
    both.sort_unstable();
    assert_eq!(both, [findings(bubbles), findings(rises)].concat());
    assert!((tree.minutes - (12.0 + 10.0 + 5.0)).abs() < 1e-9, "with its wait: {tree:?}");
    let evidence = [Evidence::Seen { finding: 0, outcome: 1 }];
    let network = engine.network();
    let now = network.posterior(&[], &evidence).unwrap();
    for test in [bubbles, rises, tree] {
        let bits = network.information_together(&findings(test), &now);
        assert!((test.bits - bits).abs() < 1e-12 && test.decides == 1.0, "{test:?}");
    }
    assert!(tree.bits < bubbles.bits + rises.bits, "both may show the joint");
    assert!(tree.bits > bubbles.bits.max(rises.bits));
    assert!(tests.is_sorted_by(|one, next| one.worth() >= next.worth()));
}

/// The bubbles are looked for only where the oil is milky, which it hardly ever is in a pump that
/// reads low.
#[test]
fn a_check_that_would_hardly_ever_apply_is_not_proposed() {
    let milky = "    when: bubbles\n    only_if: looks is milky\n";
    let handbook = handbook(&HANDBOOK.replace("    when: bubbles\n", milky));
    let engine = Engine::new(&handbook).unwrap();
    let proposes = |given: &[(&str, &str)]| {
        let bench = answered(&handbook, &engine, &answers(given));
        let tests = bench.case.insight().tests;
        let mut single = tests.iter().filter(|test| test.tree.is_none());
        single.any(|test| questions(&handbook, test).contains(&"bubbles".to_owned()))
    };
    assert!(!proposes(&[("reads_high", "no")]));
    assert!(proposes(&[("reads_high", "yes")]));
    assert!(proposes(&[("reads_high", "no"), ("looks", "milky")]));
    assert!(!proposes(&[("reads_high", "yes"), ("looks", "clear")]));
}

/// Eight readings from 50 to 200 micron, evenly in the logarithm: those at 92 and 109 micron
/// are too close to 100 for a gauge that may be off by 20.
#[test]
fn a_gauge_decides_in_the_share_of_readings_far_enough_from_the_limit() {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    let bench = answered(&handbook, &engine, &answers(&[("reads_high", "yes")]));
    let tests = bench.case.insight().tests;
    let floor = tests.iter().find(|test| questions(&handbook, test) == ["floor"]).unwrap();
    assert!((floor.decides - 0.75).abs() < 1e-12, "{floor:?}");
    let evidence = [Evidence::Seen { finding: 0, outcome: 1 }];
    let now = engine.network().posterior(&[], &evidence).unwrap();
    let bits = engine.network().information(findings(floor)[0], &now);
    assert!((floor.bits - 0.75 * bits).abs() < 1e-12, "{floor:?}");
}

/// By the rule of the case itself, let come about: something leads by enough, and no cheap look
/// that is then still open may change it.
#[test]
fn a_test_settles_as_often_as_the_case_is_settled_after_it() {
    let handbook = handbook(HANDBOOK);
    let engine = Engine::new(&handbook).unwrap();
    let (mut settling, mut overturned) = (0, 0);
    for given in super::several() {
        let bench = answered(&handbook, &engine, &given);
        let network = engine.network();
        let pieces = dryhold::evidence::gather(&engine, &bench.case.assessment().witnesses);
        let evidence: Vec<Evidence> = pieces.into_iter().map(|piece| piece.evidence).collect();
        let odds = if given[0].0 == "old" { vec![2.0, 1.0, 1.0, 1.0] } else { Vec::new() };
        let now = network.posterior(&odds, &evidence).unwrap();
        for test in bench.case.insight().tests.iter().filter(|test| test.decides == 1.0) {
            let [finding] = findings(test)[..] else { continue };
            let mut expected = 0.0;
            for (outcome, chance) in network.predict(finding, &now).into_iter().enumerate() {
                let mut given = given.clone();
                given.push(answer_for(&handbook, finding, outcome));
                let then = answered(&handbook, &engine, &given);
                let assessment = then.case.assessment();
                let leading = assessment.groups[0].probability.max(assessment.nothing_wrong);
                expected += if assessment.settled { chance } else { 0.0 };
                overturned += usize::from(leading >= SETTLED_AT && !assessment.settled);
            }
            assert!((test.settles - expected).abs() < 1e-9, "{expected}: {test:?}");
            settling += usize::from(expected > 0.0);
        }
    }
    assert!(settling > 0, "some test settles it");
    assert!(overturned > 0, "some lead by enough and may still be overturned cheaply");
}

#[test]
fn a_case_is_not_settled_while_a_cheap_look_may_change_the_lead() {
    let settled = |minutes: u32, more: &[(&str, &str)]| {
        let handbook = handbook(&two_faults(minutes));
        let engine = Engine::new(&handbook).unwrap();
        let given = [&[("reads_high", "yes")], more].concat();
        let bench = answered(&handbook, &engine, &answers(&given));
        let leader = bench.case.assessment().groups[0].probability;
        assert!(leader >= SETTLED_AT, "{leader}");
        let changes = bench.case.insight().changes.len();
        (bench.case.assessment().settled, changes)
    };
    assert_eq!(settled(2, &[]), (false, 1), "two minutes would tell");
    assert_eq!(settled(20, &[]), (true, 1), "it may change, but not cheaply");
    assert_eq!(settled(2, &[("looks_loose", "no")]), (true, 0));
    assert_eq!(settled(2, &[("looks_loose", "yes")]), (true, 0));
}
