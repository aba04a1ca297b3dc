//! Seeded random networks against a naive enumeration.

use super::naive::{Draws, Naive, evidence, is_there};
use super::yes_no::assert_close;
use dryhold::evidence::decision::Decisions;
use dryhold::evidence::left_out::each_left_out;
use dryhold::evidence::network::{Evidence, Network, Posterior};

fn assert_same(posterior: &Posterior, weights: &[f64]) {
    let total: f64 = weights.iter().sum();
    let states: Vec<f64> = weights.iter().map(|weight| weight / total).collect();
    assert_close(&posterior.states, &states, 1e-12);
    assert_close(&[posterior.evidence / total, posterior.nothing], &[1.0, states[0]], 1e-12);
    for (cause, marginal) in posterior.marginals.iter().enumerate() {
        let of = |there: bool| -> f64 {
            let states = states.iter().enumerate();
            states.filter(|(s, _)| is_there(*s, cause) == there).map(|(_, p)| p).sum()
        };
        assert_close(&[*marginal], &[of(true)], 1e-12);
        assert_close(&[posterior.log_odds[cause]], &[(of(true) / of(false)).ln()], 1e-9);
    }
    let causes: Vec<usize> = (0..posterior.marginals.len()).step_by(2).collect();
    let any = states.iter().enumerate().filter(|(s, _)| causes.iter().any(|c| is_there(*s, *c)));
    assert_close(&[posterior.any_of(&causes)], &[any.map(|(_, p)| p).sum()], 1e-12);
}

fn run(seed: u64, check: impl Fn(&mut Draws, &Naive, &Network, &[f64], &[Evidence])) {
    for round in 0..150 {
        let mut draws = Draws(seed * 1000 + round);
        let naive = Naive::random(&mut draws);
        let network = Network::new(naive.model()).unwrap();
        let odds: Vec<f64> = match draws.below(2) {
            0 => vec![],
            _ => naive.causes.iter().map(|_| 4.0 * draws.chance() + 0.05).collect(),
        };
        let evidence = evidence(&mut draws, &naive);
        check(&mut draws, &naive, &network, &odds, &evidence);
    }
}

#[test]
fn posteriors_agree_with_the_naive_walk() {
    run(1, |_, naive, network, odds, evidence| {
        let posterior = network.posterior(odds, evidence).unwrap();
        assert_same(&posterior, &naive.states(odds, evidence));
    });
}

#[test]
fn chances_agree_with_the_naive_walk_and_sum_to_one() {
    run(2, |_, naive, network, _, _| {
        for (finding, told) in naive.findings.iter().enumerate() {
            for state in 0..1 << naive.causes.len() {
                let outcomes = 0..network.outcomes(finding).unwrap();
                let found: Vec<f64> =
                    outcomes.map(|o| network.chance(finding, o, state).unwrap()).collect();
                assert_close(&found, &told.chances(state), 1e-13);
                assert_close(&[found.iter().sum()], &[1.0], 1e-13);
            }
        }
    });
}

#[test]
fn predictions_and_bits_agree_with_the_naive_walk() {
    run(3, |draws, naive, network, odds, evidence| {
        let posterior = network.posterior(odds, evidence).unwrap();
        let finding = draws.below(naive.findings.len());
        let weights = naive.states(odds, evidence);
        let total: f64 = weights.iter().sum();
        let mut expected = vec![0.0; naive.findings[finding].background.len()];
        let mut doubt = 0.0;
        for (state, weight) in weights.iter().enumerate() {
            for (expected, chance) in
                expected.iter_mut().zip(naive.findings[finding].chances(state))
            {
                *expected += weight / total * chance;
                doubt -= weight / total * if chance > 0.0 { chance * chance.log2() } else { 0.0 };
            }
        }
        assert_close(&network.predict(finding, &posterior), &expected, 1e-12);
        let entropy: f64 = expected.iter().map(|p| -p * p.log2()).sum();
        assert_close(&[network.information(finding, &posterior)], &[entropy - doubt], 1e-12);
    });
}

#[test]
fn leaving_out_a_piece_is_the_posterior_without_it() {
    run(4, |_, _, network, odds, evidence| {
        let asked = [0, network.causes() - 1, 99];
        let asked = Decisions::new(vec![asked.to_vec()]);
        let without = each_left_out(network, &asked, odds, evidence).unwrap();
        assert_eq!(without.len(), evidence.len());
        for (piece, found) in without.iter().enumerate() {
            let mut rest = evidence.to_vec();
            rest.remove(piece);
            let posterior = network.posterior(odds, &rest).unwrap();
            assert_close(&found.log_odds, &posterior.log_odds, 1e-9);
            let (rest, all) = (&found.tally, asked.weights(&posterior.states));
            let share = rest.nothing / (rest.nothing + rest.groups[0]);
            assert_close(&[share], &[all.nothing], 1e-12);
        }
        let in_order = network.log_odds_in_order(odds, evidence).unwrap();
        for (pieces, found) in in_order.iter().enumerate() {
            let posterior = network.posterior(odds, &evidence[..pieces]).unwrap();
            assert_close(found, &posterior.log_odds, 1e-9);
        }
    });
}

/// Too many causes to walk every combination of draws, so the chances of each finding, which are
/// walked elsewhere, are taken from the network and multiplied state by state.
#[test]
fn many_causes_agree_with_the_product_of_their_chances() {
    for (seed, causes) in [(1, 9), (2, 10), (3, 11), (4, 12), (5, 13), (6, 14)] {
        let mut draws = Draws(6000 + seed);
        let sparse = Naive::with(&mut draws, causes, 0.25);
        let mut model = sparse.model();
        while model.findings.len() < 30 {
            model.findings.extend(Naive::with(&mut draws, causes, 0.25).model().findings);
        }
        let network = Network::new(model).unwrap();
        let evidence: Vec<Evidence> = (0..network.findings())
            .map(|finding| (finding, draws.below(network.outcomes(finding).unwrap())))
            .map(|(finding, outcome)| Evidence::Seen { finding, outcome })
            .collect();
        let chance = |piece: &Evidence, state| match piece {
            Evidence::Seen { finding, outcome } => {
                network.chance(*finding, *outcome, state).unwrap()
            }
            other => panic!("{other:?} is not drawn here"),
        };
        let weight = |state| -> f64 {
            let product: f64 = evidence.iter().map(|piece| chance(piece, state)).product();
            sparse.prior(state, &[]) * product
        };
        let weights: Vec<f64> = (0..1 << causes).map(weight).collect();
        assert_same(&network.posterior(&[], &evidence).unwrap(), &weights);
    }
}

#[test]
fn the_order_of_the_evidence_does_not_matter() {
    run(5, |_, _, network, odds, evidence| {
        let forwards = network.posterior(odds, evidence).unwrap();
        let mut turned = evidence.to_vec();
        turned.reverse();
        let backwards = network.posterior(odds, &turned).unwrap();
        assert_close(&forwards.states, &backwards.states, 1e-13);
    });
}
