//! Seeded random networks told in another way that means the same: the answers must be the same.

use super::drawn::{Drawn, each, permuted};
use super::naive::{Draws, is_there};
use super::yes_no::assert_close;
use dryhold::evidence::ledger::leave_one_out;
use dryhold::evidence::network::{CauseModel, Evidence, Model, Network, Pattern, Posterior};

fn posterior(model: &Model, odds: &[f64], evidence: &[Evidence]) -> Posterior {
    Network::new(model.clone()).unwrap().posterior(odds, evidence).unwrap()
}

/// Asserts that a network told in another way says the same of every state.
#[track_caller]
fn assert_same(drawn: &Drawn, told: &Model, evidence: &[Evidence]) {
    let (one, other) = (drawn.posterior(), posterior(told, &drawn.odds, evidence));
    assert_close(&other.states, &one.states, 1e-12);
    assert_close(&other.marginals, &one.marginals, 1e-12);
    assert_close(&[other.log_evidence], &[one.log_evidence], 1e-9);
}

#[test]
fn causes_by_other_names_are_as_likely() {
    each(11, |drawn| {
        let causes = drawn.model.causes.len();
        let to = permuted(&mut drawn.draws, causes);
        let renamed = |pairs: &[(usize, f64)]| -> Vec<(usize, f64)> {
            pairs.iter().map(|(cause, chance)| (to[*cause], *chance)).collect()
        };
        let mut told = drawn.model.clone();
        let mut odds = drawn.odds.clone();
        for (cause, model) in drawn.model.causes.iter().enumerate() {
            let brought_by = renamed(&model.brought_by);
            told.causes[to[cause]] = CauseModel { prior: model.prior, brought_by };
            if let Some(factor) = drawn.odds.get(cause) {
                odds[to[cause]] = *factor;
            }
        }
        for finding in &mut told.findings {
            finding.hidden_by = renamed(&finding.hidden_by);
            finding.shown_by.iter_mut().for_each(|(cause, _)| *cause = to[*cause]);
        }
        let (one, other) = (drawn.posterior(), posterior(&told, &odds, &drawn.evidence));
        for (state, chance) in one.states.iter().enumerate() {
            let there = (0..causes).filter(|cause| is_there(state, *cause));
            let place = there.fold(0, |place, cause| place | 1 << to[cause]);
            assert_close(&[other.states[place]], &[*chance], 1e-12);
        }
        for (cause, to) in to.iter().enumerate() {
            assert_close(&[other.marginals[*to]], &[one.marginals[cause]], 1e-12);
            assert_close(&[other.log_odds[*to]], &[one.log_odds[cause]], 1e-9);
        }
    });
}

#[test]
fn findings_in_another_order_say_the_same() {
    each(12, |drawn| {
        let to = permuted(&mut drawn.draws, drawn.model.findings.len());
        let mut told = drawn.model.clone();
        for (finding, model) in drawn.model.findings.iter().enumerate() {
            told.findings[to[finding]] = model.clone();
        }
        let renamed = drawn.evidence.iter().cloned().map(|mut piece| {
            match &mut piece {
                Evidence::Seen { finding, .. } | Evidence::Likely { finding, .. } => {
                    *finding = to[*finding];
                }
                Evidence::Joint { findings, .. } => {
                    findings.iter_mut().for_each(|finding| *finding = to[*finding]);
                }
            }
            piece
        });
        let renamed: Vec<Evidence> = renamed.collect();
        assert_same(drawn, &told, &renamed);
    });
}

#[test]
fn not_knowing_says_nothing() {
    each(13, |drawn| {
        let nothing = |finding: usize, is_joint: bool| {
            let outcomes = drawn.model.findings[finding].background.len();
            if is_joint {
                let patterns = vec![Pattern { weight: 1.0, outcomes: vec![None] }];
                Evidence::Joint { findings: vec![finding], patterns }
            } else {
                Evidence::Likely { finding, likelihood: vec![1.0; outcomes] }
            }
        };
        let open = drawn.open();
        let mut evidence = drawn.evidence.clone();
        for (place, finding) in open.iter().enumerate() {
            evidence.insert(place.min(evidence.len()), nothing(*finding, place % 2 == 0));
        }
        assert_same(drawn, &drawn.model, &evidence);
        let network = drawn.network();
        let ledger = leave_one_out(&network, &drawn.odds, &evidence).unwrap();
        for (piece, evidence) in evidence.iter().enumerate() {
            let is_nothing = match evidence {
                Evidence::Seen { finding, .. } | Evidence::Likely { finding, .. } => {
                    open.contains(finding)
                }
                Evidence::Joint { findings, .. } => findings.iter().all(|f| open.contains(f)),
            };
            if is_nothing {
                let weights: Vec<f64> = ledger.pieces[piece].iter().map(|w| w.nats()).collect();
                assert_close(&weights, &vec![0.0; weights.len()], 1e-9);
            }
        }
    });
}

#[test]
fn one_thing_seen_may_be_told_in_three_ways() {
    each(14, |drawn| {
        let told = drawn.evidence.iter().cloned().map(|piece| match piece {
            Evidence::Seen { finding, outcome } => {
                let outcomes = drawn.model.findings[finding].background.len();
                let likelihood = (0..outcomes).map(|o| f64::from(u8::from(o == outcome))).collect();
                Evidence::Likely { finding, likelihood }
            }
            Evidence::Likely { finding, likelihood } => {
                let pattern = |(outcome, weight): (usize, &f64)| Pattern {
                    weight: *weight,
                    outcomes: vec![Some(outcome)],
                };
                let patterns = likelihood.iter().enumerate().map(pattern).collect();
                Evidence::Joint { findings: vec![finding], patterns }
            }
            joint @ Evidence::Joint { .. } => joint,
        });
        let told: Vec<Evidence> = told.collect();
        assert_same(drawn, &drawn.model, &told);
    });
}

#[test]
fn shares_may_be_split_and_stand_in_any_order() {
    each(15, |drawn| {
        let draws = &mut drawn.draws;
        let mut told = drawn.evidence.clone();
        for piece in &mut told {
            let Evidence::Joint { findings, patterns } = piece else { continue };
            let order = permuted(draws, findings.len());
            let shuffled = order.iter().map(|place| findings[*place]).collect();
            let mut split = Vec::new();
            for pattern in patterns.iter() {
                let outcomes: Vec<Option<usize>> =
                    order.iter().map(|place| pattern.outcomes[*place]).collect();
                let first = pattern.weight * draws.chance();
                split.push(Pattern { weight: pattern.weight - first, outcomes: outcomes.clone() });
                split.insert(draws.below(split.len()), Pattern { weight: first, outcomes });
            }
            *piece = Evidence::Joint { findings: shuffled, patterns: split };
        }
        assert_same(drawn, &drawn.model, &told);
    });
}

#[test]
fn doubts_that_share_nothing_may_be_told_together() {
    each(16, |drawn| {
        let is_likely = |piece: &&Evidence| matches!(piece, Evidence::Likely { .. });
        let (likely, mut told): (Vec<&Evidence>, Vec<&Evidence>) =
            drawn.evidence.iter().partition(is_likely);
        let mut findings = Vec::new();
        let mut patterns = vec![Pattern { weight: 1.0, outcomes: Vec::new() }];
        for piece in likely.iter().take(4) {
            let Evidence::Likely { finding, likelihood } = piece else { continue };
            findings.push(*finding);
            let longer = |pattern: &Pattern, outcome: usize, share: f64| Pattern {
                weight: pattern.weight * share,
                outcomes: [&pattern.outcomes[..], &[Some(outcome)]].concat(),
            };
            patterns = patterns
                .iter()
                .flat_map(|p| likelihood.iter().enumerate().map(|(o, share)| longer(p, o, *share)))
                .collect();
        }
        told.extend(likely.iter().skip(4));
        let mut told: Vec<Evidence> = told.into_iter().cloned().collect();
        told.push(Evidence::Joint { findings, patterns });
        assert_same(drawn, &drawn.model, &told);
    });
}

#[test]
fn what_hides_nothing_brings_nothing_or_shows_nothing_may_be_told() {
    each(17, |drawn| {
        let causes = drawn.model.causes.len();
        let mut told = drawn.model.clone();
        for finding in &mut told.findings {
            for cause in 0..causes {
                if finding.hidden_by.iter().all(|(by, _)| *by != cause) {
                    finding.hidden_by.push((cause, 0.0));
                }
                if finding.shown_by.iter().all(|(by, _)| *by != cause) {
                    finding.shown_by.push((cause, finding.background.clone()));
                }
            }
        }
        // Bringing follows the order of the places times seven, by eleven, as it was drawn.
        for cause in 0..causes {
            for by in (0..causes).filter(|by| (by * 7) % 11 < (cause * 7) % 11) {
                let told = &mut told.causes[cause];
                if told.brought_by.iter().all(|(one, _)| *one != by) {
                    told.brought_by.push((by, told.prior));
                }
            }
        }
        assert_same(drawn, &told, &drawn.evidence);
    });
}

#[test]
fn a_cause_that_touches_nothing_changes_nothing_else() {
    each(18, |drawn| {
        let causes = drawn.model.causes.len();
        let mut told = drawn.model.clone();
        let prior = drawn.draws.chance();
        told.causes.push(CauseModel { prior, brought_by: vec![] });
        let mut odds = drawn.odds.clone();
        if !odds.is_empty() {
            odds.push(1.0);
        }
        let (one, other) = (drawn.posterior(), posterior(&told, &odds, &drawn.evidence));
        assert_close(&other.marginals[..causes], &one.marginals, 1e-12);
        assert_close(&[other.marginals[causes]], &[prior], 1e-12);
        assert_close(&[other.nothing], &[one.nothing * (1.0 - prior)], 1e-12);
        let (network, wider) = (drawn.network(), Network::new(told).unwrap());
        for finding in drawn.open() {
            let (bits, same) =
                (network.information(finding, &one), wider.information(finding, &other));
            assert_close(&[same], &[bits], 1e-12);
        }
    });
}

/// A factor on the odds is another base rate of the cause alone: what brings it brings it as
/// often as before.
#[test]
fn a_past_may_be_told_as_base_rates() {
    each(19, |drawn| {
        let mut told = drawn.model.clone();
        for (cause, factor) in told.causes.iter_mut().zip(&drawn.odds) {
            let prior = cause.prior * factor / (1.0 - cause.prior + cause.prior * factor);
            for (_, chance) in &mut cause.brought_by {
                *chance = 1.0 - (1.0 - *chance) / (1.0 - cause.prior) * (1.0 - prior);
            }
            cause.prior = prior;
        }
        let (one, other) = (drawn.posterior(), posterior(&told, &[], &drawn.evidence));
        assert_close(&other.states, &one.states, 1e-12);
        assert_close(&[other.log_evidence], &[one.log_evidence], 1e-9);
    });
}

/// Before it is looked at, a finding's outcomes weigh as much together as not looking.
#[test]
fn the_outcomes_of_an_open_finding_add_up_to_what_is_known() {
    each(20, |drawn| {
        let network = drawn.network();
        let now = drawn.posterior();
        for finding in drawn.open() {
            let mut sum = vec![0.0; now.states.len()];
            for (outcome, chance) in network.predict(finding, &now).into_iter().enumerate() {
                let seen = [&drawn.evidence[..], &[Evidence::Seen { finding, outcome }]].concat();
                let after = network.posterior(&drawn.odds, &seen).unwrap();
                assert_close(&[after.log_evidence], &[now.log_evidence + libm::log(chance)], 1e-9);
                for (sum, state) in sum.iter_mut().zip(after.states) {
                    *sum += chance * state;
                }
            }
            assert_close(&sum, &now.states, 1e-12);
        }
    });
}

#[test]
fn one_seed_draws_one_network() {
    let first = |seed| {
        let mut draws = Draws(seed);
        Drawn::of(&mut draws).model
    };
    assert_eq!(first(11_000), first(11_000));
    assert_ne!(first(11_000), first(11_001));
}
