//! The golden network: what would change its verdict.
//!
//! Expected values computed: enumeration with numpy.

use super::golden::{FITTING, MOISTURE, OIL, evidence, network};
use super::yes_no::{assert_close, finding, model};
use dryhold::evidence::decision::{Decisions, Lead};
use dryhold::evidence::left_out::{each_left_out, rests_on};
use dryhold::evidence::sensitivity::{Parameter, crossing};
use dryhold::evidence::what_if::{flips, same_decision};

fn each_alone() -> Decisions {
    Decisions::new(vec![vec![OIL], vec![FITTING], vec![MOISTURE]])
}

#[test]
fn the_same_decision_probability_over_the_open_finding() {
    let network = network();
    let posterior = network.posterior(&[], &evidence()).unwrap();
    let same = same_decision(&network, &each_alone(), &posterior, &[3]);
    assert_close(&[same], &[0.522014], 1e-6);
    assert_close(&[same_decision(&network, &each_alone(), &posterior, &[])], &[1.0], 1e-12);
}

#[test]
fn a_yes_to_the_open_finding_would_put_oil_first() {
    let network = network();
    let posterior = network.posterior(&[], &evidence()).unwrap();
    let found = flips(&network, &each_alone(), &posterior, &[3]);
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].outcomes.clone(), found[0].lead), (vec![(3, 1)], Lead::Group(OIL)));
    assert_close(&[found[0].probability], &[0.477986], 1e-6);
}

#[test]
fn the_verdict_rests_on_the_third_finding() {
    let (network, decisions) = (network(), each_alone());
    let now = network.posterior(&[], &evidence()).unwrap();
    let left_out = each_left_out(&network, &decisions, &[], &evidence()).unwrap();
    let rests = rests_on(decisions.lead(&now.states).0, &left_out);
    assert!(rests.contains_key(&2), "without it the fitting is no longer first: {rests:?}");
}

#[test]
fn the_verdict_holds_while_the_strength_stays_above_the_crossing() {
    let findings = vec![
        finding(0.02, &[0.80, 0.10, 0.30]),
        finding(0.05, &[0.05, 0.70, 0.60]),
        finding(0.03, &[0.00, 0.85, 0.20]),
        finding(0.01, &[0.60, 0.00, 0.50]),
    ];
    let model = model(&[0.15, 0.25, 0.30], findings);
    let parameter = Parameter::Strength { finding: 2, cause: FITTING };
    let found = crossing(&model, &each_alone(), &[], &evidence(), parameter).unwrap();
    // The handbook states what a cause shows with the background; the reference has it without.
    let net = |stated: f64| (stated - 0.03) / 0.97;
    assert_close(&[net(found.stated), net(found.at)], &[0.85, 0.67811], 1e-5);
    assert_eq!(found.lead, Lead::Group(MOISTURE));
}

/// Mutual information as the drop in the entropy of the joint state, from its definition.
#[test]
fn findings_together_tell_what_the_entropy_of_the_state_loses() {
    let network = network();
    let posterior = network.posterior(&[], &evidence()[..1]).unwrap();
    let bits = |weights: &[f64]| -> f64 {
        let total: f64 = weights.iter().sum();
        let shares = weights.iter().map(|w| w / total).filter(|share| *share > 0.0);
        shares.map(|share| -share * libm::log2(share)).sum()
    };
    let mut left = 0.0;
    network.each_outcome(&posterior.states, &[1, 2, 3], &mut |_, weights| {
        left += weights.iter().sum::<f64>() * bits(weights);
    });
    let together = network.information_together(&[1, 2, 3], &posterior);
    assert_close(&[together], &[bits(&posterior.states) - left], 1e-12);
    let alone: f64 = (1..4).map(|finding| network.information(finding, &posterior)).sum();
    assert!(together < alone, "what one finding tells the others need not tell again");
    let golden = network.posterior(&[], &evidence()).unwrap();
    assert_close(&[network.information_together(&[3], &golden)], &[0.238525], 1e-6);
}
