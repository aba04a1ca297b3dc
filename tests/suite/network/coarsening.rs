//! Findings with several outcomes: put together from halves, and seen less finely.

use super::drawn::each;
use super::yes_no::assert_close;
use dryhold::evidence::network::{Evidence, FindingModel, Network, Pattern};

/// Splits a finding that nothing hides into two whose worse outcome is the finding: one with the
/// background and the causes at even places of its list, one with the others alone.
fn halves(whole: &FindingModel) -> [FindingModel; 2] {
    let every_other = |first| whole.shown_by.iter().skip(first).step_by(2).cloned();
    let with_background = FindingModel {
        background: whole.background.clone(),
        shown_by: every_other(0).collect(),
        hidden_by: vec![],
    };
    let mut never = vec![0.0; whole.background.len()];
    never[0] = 1.0;
    let alone = every_other(1).map(|(cause, shown)| (cause, by_itself(&whole.background, &shown)));
    let without = FindingModel { background: never, shown_by: alone.collect(), hidden_by: vec![] };
    [with_background, without]
}

/// What a cause shows by itself, of what it shows with the background.
fn by_itself(background: &[f64], shown: &[f64]) -> Vec<f64> {
    let (mut up_to, mut with, mut before) = (0.0, 0.0, 0.0);
    let parts = background.iter().zip(shown).map(|(background, shown)| {
        up_to += background;
        with += shown;
        let part: f64 = with / up_to - before;
        before = with / up_to;
        part.max(0.0)
    });
    parts.collect()
}

#[test]
fn a_finding_is_the_worse_of_its_two_halves() {
    each(21, |drawn| {
        let Some(split) = drawn.open().into_iter().find(|finding| {
            let told = &drawn.model.findings[*finding];
            told.hidden_by.is_empty() && told.shown_by.len() > 1
        }) else {
            return;
        };
        let mut told = drawn.model.clone();
        let [first, second] = halves(&drawn.model.findings[split]);
        let other = told.findings.len();
        told.findings[split] = first;
        told.findings.push(second);
        let outcomes = drawn.model.findings[split].background.len();
        let (network, in_halves) = (drawn.network(), Network::new(told).unwrap());
        for outcome in 0..outcomes {
            let pairs = (0..=outcome).flat_map(|one| (0..=outcome).map(move |two| [one, two]));
            let patterns: Vec<Pattern> = pairs
                .filter(|pair| pair.contains(&outcome))
                .map(|[one, two]| Pattern { weight: 1.0, outcomes: vec![Some(one), Some(two)] })
                .collect();
            let worse = Evidence::Joint { findings: vec![split, other], patterns };
            let with = |piece: Evidence| [&drawn.evidence[..], &[piece]].concat();
            let seen = with(Evidence::Seen { finding: split, outcome });
            let one = network.posterior(&drawn.odds, &seen).unwrap();
            let two = in_halves.posterior(&drawn.odds, &with(worse)).unwrap();
            assert_close(&two.states, &one.states, 1e-12);
            assert_close(&[two.log_evidence], &[one.log_evidence], 1e-9);
        }
    });
}

/// Joins an outcome with the next one.
fn joined(shares: &[f64], at: usize) -> Vec<f64> {
    let mut joined = shares.to_vec();
    let next = joined.remove(at + 1);
    joined[at] += next;
    joined
}

#[test]
fn two_outcomes_that_nobody_tells_apart_are_one() {
    each(22, |drawn| {
        let several = |finding: &usize| drawn.model.findings[*finding].background.len() > 2;
        let Some(coarse) = drawn.open().into_iter().find(several) else { return };
        let outcomes = drawn.model.findings[coarse].background.len();
        for at in 0..outcomes - 1 {
            let mut told = drawn.model.clone();
            let finding = &mut told.findings[coarse];
            finding.background = joined(&finding.background, at);
            finding.shown_by.iter_mut().for_each(|(_, shown)| *shown = joined(shown, at));
            let either = |outcome| f64::from(u8::from(outcome == at || outcome == at + 1));
            let likelihood = (0..outcomes).map(either).collect();
            let with = |piece: Evidence| [&drawn.evidence[..], &[piece]].concat();
            let fine = with(Evidence::Likely { finding: coarse, likelihood });
            let seen = with(Evidence::Seen { finding: coarse, outcome: at });
            let one = drawn.network().posterior(&drawn.odds, &fine).unwrap();
            let network = Network::new(told).unwrap();
            let other = network.posterior(&drawn.odds, &seen).unwrap();
            assert_close(&other.states, &one.states, 1e-12);
            assert_close(&[other.log_evidence], &[one.log_evidence], 1e-9);
            // Who sees less finely learns no more.
            let now = drawn.posterior();
            let bits = drawn.network().information(coarse, &now);
            assert!(network.information(coarse, &now) <= bits + 1e-12);
        }
    });
}

#[test]
fn a_cause_that_always_hides_is_excluded_by_what_shows() {
    each(23, |drawn| {
        let Some(finding) = drawn.open().first().copied() else { return };
        let mut told = drawn.model.clone();
        let cause = drawn.draws.below(told.causes.len());
        let hidden_by = &mut told.findings[finding].hidden_by;
        hidden_by.retain(|(by, _)| *by != cause);
        hidden_by.push((cause, 1.0));
        let network = Network::new(told).unwrap();
        let outcome = network.outcomes(finding).unwrap() - 1;
        let seen = [&drawn.evidence[..], &[Evidence::Seen { finding, outcome }]].concat();
        let posterior = network.posterior(&drawn.odds, &seen).unwrap();
        assert_eq!(posterior.marginals[cause], 0.0);
        assert_eq!(posterior.log_odds[cause], f64::NEG_INFINITY);
    });
}
