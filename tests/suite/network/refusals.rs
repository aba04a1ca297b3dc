//! What is no network, what is no evidence, and the ends of the number range.

use super::yes_no::{assert_close, finding, model, seen};
use dryhold::evidence::network::{
    CauseModel, Evidence, FindingModel, Impossible, MOST_CAUSES, Model, ModelError, Network,
    Pattern,
};

fn refused(model: Model) -> ModelError {
    Network::new(model).map(|_| ()).unwrap_err()
}

fn one_finding(told: FindingModel) -> Model {
    model(&[0.2, 0.1], vec![told])
}

fn yes_no(shown_by: Vec<(usize, Vec<f64>)>, hidden_by: Vec<(usize, f64)>) -> FindingModel {
    FindingModel { background: vec![0.9, 0.1], shown_by, hidden_by }
}

#[test]
fn eighteen_causes_are_taken_and_nineteen_refused() {
    let most = model(&[0.1; MOST_CAUSES], vec![finding(0.1, &[0.5; MOST_CAUSES])]);
    let network = Network::new(most).unwrap();
    let posterior = network.posterior(&[], &[seen(0, 0)]).unwrap();
    // Seen normal, causes stay independent: the odds of each are halved.
    assert_close(&posterior.marginals, &[0.05 / 0.95; MOST_CAUSES], 1e-12);
    assert_eq!(
        refused(model(&[0.1; 19], vec![])),
        ModelError::TooMany { causes: 19, most: MOST_CAUSES }
    );
}

#[test]
fn tables_that_would_fill_the_memory_are_refused() {
    let outcomes = 300;
    let wide = FindingModel {
        background: vec![1.0 / outcomes as f64; outcomes],
        shown_by: vec![],
        hidden_by: (0..MOST_CAUSES).map(|cause| (cause, 0.5)).collect(),
    };
    let numbers = outcomes << MOST_CAUSES;
    let refusal = refused(model(&[0.1; MOST_CAUSES], vec![wide]));
    assert!(matches!(refusal, ModelError::TooLarge { numbers: n, .. } if n == numbers));
}

#[test]
fn priors_and_strengths_must_be_probabilities() {
    for prior in [-0.1, 1.1, f64::NAN, f64::INFINITY] {
        assert!(matches!(
            refused(model(&[0.5, prior], vec![])),
            ModelError::Prior { cause: 1, .. }
        ));
    }
    let hidden = one_finding(yes_no(vec![], vec![(0, 1.5)]));
    assert!(matches!(refused(hidden), ModelError::Hidden { finding: 0, cause: 0, .. }));
    let shown = one_finding(yes_no(vec![(1, vec![0.5, 0.4])], vec![]));
    assert!(matches!(refused(shown), ModelError::Shown { cause: 1, outcomes: 2, .. }));
    let longer = one_finding(yes_no(vec![(1, vec![0.5, 0.4, 0.1])], vec![]));
    assert!(matches!(refused(longer), ModelError::Shown { .. }));
    let mut background = yes_no(vec![], vec![]);
    background.background = vec![1.0];
    assert_eq!(refused(one_finding(background)), ModelError::Background { finding: 0 });
}

#[test]
fn places_must_exist_and_stand_once() {
    let unknown = one_finding(yes_no(vec![(2, vec![0.5, 0.5])], vec![]));
    assert_eq!(refused(unknown), ModelError::UnknownCause { finding: 0, cause: 2 });
    let twice = one_finding(yes_no(vec![], vec![(1, 0.5), (1, 0.6)]));
    assert_eq!(refused(twice), ModelError::CauseTwice { finding: 0, cause: 1 });
    // The same cause may show a finding and hide it.
    let both = one_finding(yes_no(vec![(1, vec![0.2, 0.8])], vec![(1, 0.5)]));
    let network = Network::new(both).unwrap();
    assert_close(&[network.chance(0, 1, 0b10).unwrap()], &[0.4], 1e-12);
}

#[test]
fn a_strength_below_the_background_is_refused_with_both_numbers() {
    let below = one_finding(yes_no(vec![(0, vec![0.95, 0.05])], vec![]));
    let refusal = refused(below);
    assert_eq!(
        refusal,
        ModelError::BelowBackground { finding: 0, cause: 0, outcome: 0, with: 0.95, without: 0.9 }
    );
    assert_eq!(
        refusal.to_string(),
        "with cause 0, finding 0 stays at outcome 0 or nearer to normal with probability 0.95, \
         but without any cause only with 0.9"
    );
    // As strong as the background is taken: it says nothing.
    assert!(Network::new(one_finding(yes_no(vec![(0, vec![0.9, 0.1])], vec![]))).is_ok());
}

fn bringing(causes: Vec<(f64, Vec<(usize, f64)>)>) -> Model {
    let causes = causes.into_iter().map(|(prior, brought_by)| CauseModel { prior, brought_by });
    Model { causes: causes.collect(), findings: vec![] }
}

#[test]
fn bringing_must_add_and_never_go_round() {
    let below = bringing(vec![(0.2, vec![]), (0.3, vec![(0, 0.2)])]);
    let expected = ModelError::Brought { cause: 1, by: 0, chance: 0.2, prior: 0.3 };
    assert_eq!(refused(below), expected);
    let unknown = bringing(vec![(0.2, vec![(5, 0.9)])]);
    assert_eq!(refused(unknown), ModelError::UnknownBringer { cause: 0, by: 5 });
    let twice = bringing(vec![(0.2, vec![]), (0.2, vec![(0, 0.9), (0, 0.9)])]);
    assert_eq!(refused(twice), ModelError::BringerTwice { cause: 1, by: 0 });
    let itself = bringing(vec![(0.2, vec![(0, 0.9)])]);
    assert_eq!(refused(itself), ModelError::Circle { causes: vec![0] });
    let round = bringing(vec![(0.2, vec![(1, 0.9)]), (0.2, vec![(0, 0.9)])]);
    assert!(matches!(refused(round), ModelError::Circle { causes } if causes.len() == 2));
}

#[test]
fn a_cause_that_is_brought_has_the_stated_chance() {
    let model = bringing(vec![(0.2, vec![]), (0.1, vec![(0, 0.7)])]);
    let posterior = Network::new(model).unwrap().posterior(&[], &[]).unwrap();
    assert_close(&posterior.states, &[0.8 * 0.9, 0.2 * 0.3, 0.8 * 0.1, 0.2 * 0.7], 1e-12);
}

#[test]
fn evidence_that_nothing_produces_is_an_error_and_not_a_number() {
    let never = finding(0.0, &[0.5, 0.0]);
    let network = Network::new(model(&[0.2, 0.1], vec![never.clone(), never])).unwrap();
    assert!(network.posterior(&[], &[seen(0, 1)]).is_ok());
    let silent = Network::new(model(&[0.0, 0.1], vec![finding(0.0, &[0.5, 0.0])])).unwrap();
    for found in [
        silent.posterior(&[], &[seen(0, 1)]).map(|_| ()),
        silent.without_each(&[], &[seen(0, 1)], &mut |_| ()).map(|_| ()),
        silent.log_odds_in_order(&[], &[seen(0, 1)]).map(|_| ()),
        silent
            .posterior(&[], &[Evidence::Likely { finding: 0, likelihood: vec![0.0, 0.0] }])
            .map(|_| ()),
        silent
            .posterior(&[], &[Evidence::Joint { findings: vec![0], patterns: vec![] }])
            .map(|_| ()),
    ] {
        assert_eq!(found, Err(Impossible::Contradiction));
    }
}

#[test]
fn evidence_must_fit_the_network() {
    let network = Network::new(model(&[0.2], vec![finding(0.1, &[0.5])])).unwrap();
    let refused = |evidence: &[Evidence]| network.posterior(&[], evidence).map(|_| ()).unwrap_err();
    assert_eq!(refused(&[seen(3, 1)]), Impossible::UnknownFinding { piece: 0, finding: 3 });
    assert_eq!(
        refused(&[seen(0, 2)]),
        Impossible::UnknownOutcome { piece: 0, finding: 0, outcome: 2, outcomes: 2 }
    );
    assert_eq!(refused(&[seen(0, 1), seen(0, 1)]), Impossible::Repeated { piece: 1, finding: 0 });
    for likelihood in [vec![1.0], vec![1.0, -1.0], vec![1.0, f64::NAN], vec![f64::INFINITY, 1.0]] {
        let likely = Evidence::Likely { finding: 0, likelihood };
        assert_eq!(refused(&[likely]), Impossible::Likelihood { piece: 0, outcomes: 2 });
    }
    for (weight, outcomes) in [(f64::NAN, vec![None]), (-1.0, vec![None]), (1.0, vec![])] {
        let patterns = vec![Pattern { weight, outcomes }];
        let joint = Evidence::Joint { findings: vec![0], patterns };
        assert_eq!(refused(&[joint]), Impossible::Patterns { piece: 0, findings: 1 });
    }
    for odds in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(network.posterior(&[odds], &[]), Err(Impossible::Odds { cause: 0, .. })));
    }
    let count = network.posterior(&[1.0, 1.0], &[]).map(|_| ()).unwrap_err();
    assert_eq!(count, Impossible::OddsCount { given: 2, causes: 1 });
}

#[test]
fn very_unlikely_evidence_keeps_its_digits() {
    // Each finding is seen at 1 in 1000 or, with the cause, at 2 in 1000: after 400 of them the
    // evidence is far below the smallest number, and the odds are 2^400 times the prior's.
    let rare = FindingModel {
        background: vec![0.999, 0.001],
        shown_by: vec![(0, vec![0.998, 0.002])],
        hidden_by: vec![],
    };
    let network = Network::new(model(&[0.5, 0.3], vec![rare; 400])).unwrap();
    let evidence: Vec<Evidence> = (0..400).map(|finding| seen(finding, 1)).collect();
    let posterior = network.posterior(&[], &evidence).unwrap();
    assert_close(&[posterior.log_odds[0]], &[400.0 * 2_f64.ln()], 1e-8);
    assert_close(&posterior.marginals, &[1.0, 0.3], 1e-12);
    assert_eq!(posterior.evidence, 0.0);
    let expected = 400.0 * 0.002_f64.ln() - 2_f64.ln();
    assert_close(&[posterior.log_evidence], &[expected], 1e-8);
    let without = network.without_each(&[], &evidence, &mut |rest| rest.log_odds()).unwrap();
    assert_close(&[without[7][0]], &[399.0 * 2_f64.ln()], 1e-8);
}

#[test]
fn certain_causes_have_infinite_odds() {
    let model = model(&[1.0, 0.0, 0.5], vec![finding(0.0, &[0.5, 0.0, 0.5])]);
    let posterior = Network::new(model).unwrap().posterior(&[3.0, 3.0, 3.0], &[]).unwrap();
    assert_eq!(posterior.marginals, [1.0, 0.0, 0.75]);
    assert_eq!(posterior.log_odds[0], f64::INFINITY);
    assert_eq!(posterior.log_odds[1], f64::NEG_INFINITY);
}

#[test]
fn no_causes_and_no_findings_are_a_network_too() {
    let network = Network::new(Model::default()).unwrap();
    let posterior = network.posterior(&[], &[]).unwrap();
    assert_eq!(posterior.states, [1.0]);
    assert_eq!(posterior.nothing, 1.0);
    assert_eq!(posterior.any_of(&[0, 70]), 0.0);
    assert!(network.predict(0, &posterior).is_empty());
    assert_eq!(network.information(0, &posterior), 0.0);
    assert!(network.without_each(&[], &[], &mut |rest| rest.log_odds()).unwrap().is_empty());
}
