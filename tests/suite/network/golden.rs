//! Three causes (oil, fitting, moisture) and four findings with every quantity worked out.
//!
//! The expected values are computed: enumeration with numpy; the probability of the evidence,
//! the marginals, the rows of the fourth finding and the soft answer confirmed to six digits
//! with pyAgrum 3.3.1. The numbers of the network are invented for testing.

use super::yes_no::{assert_close, finding, model, seen};
use dryhold::evidence::decision::{Decisions, Lead};
use dryhold::evidence::ledger::{leave_one_out, sequential};
use dryhold::evidence::network::{Evidence, Network, Posterior};
use dryhold::evidence::sensitivity::{Parameter, crossing};
use dryhold::evidence::what_if::{flips, same_decision};

pub const OIL: usize = 0;
pub const FITTING: usize = 1;
pub const MOISTURE: usize = 2;

fn network_with(strength_of_f2_for_fitting: f64) -> Network {
    let findings = vec![
        finding(0.02, &[0.80, 0.10, 0.30]),
        finding(0.05, &[0.05, 0.70, 0.60]),
        finding(0.03, &[0.00, strength_of_f2_for_fitting, 0.20]),
        finding(0.01, &[0.60, 0.00, 0.50]),
    ];
    Network::new(model(&[0.15, 0.25, 0.30], findings)).unwrap()
}

pub fn network() -> Network {
    network_with(0.85)
}

pub fn evidence() -> Vec<Evidence> {
    vec![seen(0, 1), seen(1, 0), seen(2, 1)]
}

fn with(more: Evidence) -> Posterior {
    network().posterior(&[], &[evidence(), vec![more]].concat()).unwrap()
}

#[test]
fn findings_are_as_likely_as_worked_out_before_any_evidence() {
    let network = network();
    let prior = network.posterior(&[], &[]).unwrap();
    let yes: Vec<f64> = (0..4).map(|finding| network.predict(finding, &prior)[1]).collect();
    assert_close(&yes, &[0.234836, 0.362145, 0.281958, 0.234235], 1e-6);
    assert_close(&prior.marginals, &[0.15, 0.25, 0.30], 1e-12);
    assert_close(&[prior.nothing, prior.evidence], &[0.85 * 0.75 * 0.70, 1.0], 1e-12);
}

#[test]
fn the_evidence_gives_the_marginals_and_the_likeliest_state() {
    let posterior = network().posterior(&[], &evidence()).unwrap();
    assert_close(&[posterior.evidence], &[0.02211192], 1e-8);
    assert_close(&posterior.marginals, &[0.452896, 0.573307, 0.491450], 1e-6);
    let (state, chance) = posterior.likeliest();
    assert_eq!(state, 1 << MOISTURE);
    assert_close(&[chance], &[0.231173], 1e-6);
    let odds: Vec<f64> = posterior.marginals.iter().map(|p| (p / (1.0 - p)).ln()).collect();
    assert_close(&posterior.log_odds, &odds, 1e-12);
}

/// With one fault at a time another cause would lead: that is why several are weighed together.
#[test]
fn a_single_fault_would_give_another_verdict() {
    let posterior = network().posterior(&[], &evidence()).unwrap();
    let single = [OIL, FITTING, MOISTURE].map(|cause| posterior.states[1 << cause]);
    let total: f64 = single.iter().sum();
    let expected = [0.154430, 0.385081, 0.460489];
    assert_close(&single.map(|chance| chance / total), &expected, 1e-6);
    assert!(posterior.marginals[FITTING] > posterior.marginals[MOISTURE]);
}

/// Each cause a decision of its own.
fn decisions() -> Decisions {
    Decisions::new(vec![vec![OIL], vec![FITTING], vec![MOISTURE]])
}

#[test]
fn the_decision_stays_as_often_as_worked_out() {
    let network = network();
    let posterior = network.posterior(&[], &evidence()).unwrap();
    assert_eq!(decisions().lead(&posterior.states).0, Lead::Group(FITTING));
    let same = same_decision(&network, &decisions(), &posterior, &[3]);
    assert_close(&[same], &[0.522014], 1e-6);
    let flips = flips(&network, &decisions(), &posterior, &[3]);
    assert_eq!(flips.len(), 1);
    assert_eq!((&flips[0].outcomes[..], flips[0].lead), (&[(3, 1)][..], Lead::Group(OIL)));
    assert_close(&[flips[0].probability], &[0.477986], 1e-6);
}

/// The strength in the model holds the background: 1 - (1 - .03)(1 - .67811).
#[test]
fn the_strength_at_which_the_decision_changes_is_found() {
    let findings = vec![
        finding(0.02, &[0.80, 0.10, 0.30]),
        finding(0.05, &[0.05, 0.70, 0.60]),
        finding(0.03, &[0.00, 0.85, 0.20]),
        finding(0.01, &[0.60, 0.00, 0.50]),
    ];
    let model = model(&[0.15, 0.25, 0.30], findings);
    let parameter = Parameter::Strength { finding: 2, cause: FITTING };
    let found = crossing(&model, &decisions(), &[], &evidence(), parameter).unwrap();
    assert_close(&[found.at], &[1.0 - 0.97 * (1.0 - 0.67811)], 1e-5);
    assert_eq!(found.lead, Lead::Group(MOISTURE));
}

#[test]
fn leaving_out_one_piece_gives_its_weight() {
    let ledger = leave_one_out(&network(), &[], &evidence()).unwrap();
    let expected = [
        [1.596917, -0.090398, 0.734066],
        [0.155825, -0.761948, -0.377541],
        [-0.835133, 2.201849, 0.686993],
    ];
    for (piece, expected) in expected.iter().enumerate() {
        let found: Vec<f64> =
            (0..3).map(|cause| ledger.weight(piece, cause).unwrap().nats()).collect();
        assert_close(&found, expected, 1e-6);
    }
}

#[test]
fn weights_in_order_add_up_to_the_posterior() {
    let network = network();
    let ledger = sequential(&network, &[], &evidence()).unwrap();
    let oil: Vec<f64> = (0..3).map(|piece| ledger.weight(piece, OIL).unwrap().nats()).collect();
    assert_close(&oil, &[1.845380, 0.535377, -0.835133], 1e-6);
    let posterior = network.posterior(&[], &evidence()).unwrap();
    for cause in [OIL, FITTING, MOISTURE] {
        let steps: f64 = (0..3).map(|piece| ledger.weight(piece, cause).unwrap().nats()).sum();
        let start = ledger.prior[cause].nats();
        assert_close(&[start + steps], &[posterior.log_odds[cause]], 1e-12);
    }
}

#[test]
fn the_next_finding_is_predicted_with_what_it_would_change() {
    let network = network();
    let posterior = network.posterior(&[], &evidence()).unwrap();
    assert_close(&network.predict(3, &posterior), &[1.0 - 0.477986, 0.477986], 1e-6);
    let (yes, no) = (with(seen(3, 1)), with(seen(3, 0)));
    assert_close(&yes.marginals, &[0.634086, 0.478878, 0.611911], 1e-6);
    assert_close(&no.marginals, &[0.286988, 0.659771, 0.381149], 1e-6);
    // The fitting stays the likeliest cause only if the finding is no.
    assert!(yes.marginals[FITTING] < yes.marginals[OIL]);
    assert!(no.marginals[FITTING] > no.marginals[MOISTURE]);
    assert_close(&[network.predict(3, &posterior)[0]], &[0.522014], 1e-6);
}

#[test]
fn a_finding_is_worth_its_bits_about_the_joint_state() {
    let network = network();
    let posterior = network.posterior(&[], &evidence()).unwrap();
    assert_close(&[network.information(3, &posterior)], &[0.238525], 1e-6);
    // The marginals' entropies alone would say less.
    let entropy = |posterior: &Posterior| -> f64 {
        let bits = |p: f64| -p * p.log2() - (1.0 - p) * (1.0 - p).log2();
        posterior.marginals.iter().map(|p| bits(*p)).sum()
    };
    let expected = network.predict(3, &posterior);
    let after = expected[1] * entropy(&with(seen(3, 1))) + expected[0] * entropy(&with(seen(3, 0)));
    assert_close(&[entropy(&posterior) - after], &[0.152143], 1e-6);
}

#[test]
fn an_answer_that_is_only_likely_moves_less() {
    let soft = with(Evidence::Likely { finding: 3, likelihood: vec![0.2, 0.8] });
    assert_close(&soft.marginals, &[0.559643, 0.517674, 0.562419], 1e-6);
    let scaled = with(Evidence::Likely { finding: 3, likelihood: vec![2e-7, 8e-7] });
    assert_close(&scaled.marginals, &soft.marginals, 1e-14);
}

#[test]
fn the_verdict_follows_one_strength_as_worked_out() {
    for strength in [0.0, 0.3, 0.67811, 0.85, 1.0] {
        let posterior = network_with(strength).posterior(&[], &evidence()).unwrap();
        let expected = (0.00118774 + 0.01351668 * strength) / (0.01062274 + 0.01351668 * strength);
        assert_close(&[posterior.marginals[FITTING]], &[expected], 1e-6);
        let is_fitting_first = posterior.marginals[FITTING] > posterior.marginals[MOISTURE];
        if (strength - 0.67811_f64).abs() > 1e-4 {
            assert_eq!(is_fitting_first, strength > 0.67811);
        }
    }
}
