//! Why a cause is likely: what each piece of evidence weighs for it and against it.
//!
//! A *weight of evidence* is the change of the natural logarithm of a cause's odds (Good's
//! measure, as set out in Almond, "Weight of evidence, explanation and test selection"). There
//! are two honest ways to book it, and they differ:
//!
//! - [`leave_one_out`]: the odds with all pieces against the odds without this one. Free of any
//!   order; does not add up. It sees explaining away: a finding that another cause explains
//!   weighs against this one. For "the three best reasons".
//! - [`sequential`]: what the piece changed when it came. Adds up exactly to the posterior;
//!   depends on the order. For the story of a case.
//!
//! It knows pieces and causes by their places only. Imports the network.
//!
//! ```
//! use dryhold::evidence::ledger::leave_one_out;
//! use dryhold::evidence::network::{CauseModel, Evidence, FindingModel, Model, Network};
//!
//! let model = Model {
//!     causes: vec![CauseModel { prior: 0.5, brought_by: vec![] }],
//!     findings: vec![FindingModel {
//!         background: vec![0.9, 0.1],
//!         shown_by: vec![(0, vec![0.0, 1.0])],
//!         hidden_by: vec![],
//!     }],
//! };
//! let network = Network::new(model).unwrap();
//! let ledger = leave_one_out(&network, &[], &[Evidence::Seen { finding: 0, outcome: 1 }]).unwrap();
//! // Ten times likelier with the cause than without it: 10 decibans.
//! assert!((ledger.weight(0, 0).unwrap().decibans() - 10.0).abs() < 1e-9);
//! ```

use crate::evidence::network::{Evidence, Impossible, Network};
use std::f64::consts::LN_10;

/// A weight of evidence: positive speaks for the cause, negative against it. Infinite where a
/// piece makes the cause certain or excludes it; never "not a number".
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Weight(f64);

impl Weight {
    /// A weight of so many nats (natural logarithms of an odds factor).
    #[must_use]
    pub fn from_nats(nats: f64) -> Self {
        Self(nats)
    }

    /// The weight in nats.
    #[must_use]
    pub fn nats(self) -> f64 {
        self.0
    }

    /// The weight in decibans: ten times the decimal logarithm of the odds factor.
    #[must_use]
    pub fn decibans(self) -> f64 {
        self.0 * 10.0 / LN_10
    }

    /// The factor on the odds.
    #[must_use]
    pub fn factor(self) -> f64 {
        libm::exp(self.0)
    }

    /// From one logarithm of odds to another; nothing where both are the same infinity.
    pub(super) fn between(before: f64, after: f64) -> Self {
        if before == after { Self(0.0) } else { Self(after - before) }
    }
}

/// What each piece weighs beside all the others.
#[derive(Clone, Debug, PartialEq)]
pub struct LeaveOneOut {
    /// What the history factors weigh beside all the evidence, per cause; 0 without history.
    pub history: Vec<Weight>,
    /// The weights, per piece of evidence, then per cause.
    pub pieces: Vec<Vec<Weight>>,
}

/// What each piece weighed when it came.
#[derive(Clone, Debug, PartialEq)]
pub struct Sequential {
    /// The logarithm of each cause's odds before its history and any evidence.
    pub prior: Vec<Weight>,
    /// What the history factors changed, per cause; 0 without history.
    pub history: Vec<Weight>,
    /// The weights, per piece of evidence in order, then per cause.
    pub pieces: Vec<Vec<Weight>>,
    /// The logarithm of each cause's odds before any piece, after the first, and so on.
    pub balance: Vec<Vec<Weight>>,
}

/// Weighs each piece by leaving it out.
///
/// # Errors
/// As [`Network::posterior`] with all the pieces.
pub fn leave_one_out(
    network: &Network,
    odds: &[f64],
    evidence: &[Evidence],
) -> Result<LeaveOneOut, Impossible> {
    let with_all = network.posterior(odds, evidence)?.log_odds;
    let without_history = match odds {
        [] => with_all.clone(),
        _ => network.posterior(&[], evidence)?.log_odds,
    };
    let without_each = network.without_each(odds, evidence, &mut |rest| rest.log_odds())?;
    Ok(LeaveOneOut {
        history: weights(&without_history, &with_all),
        pieces: without_each.iter().map(|log_odds| weights(log_odds, &with_all)).collect(),
    })
}

/// Weighs each piece as it comes.
///
/// # Errors
/// As [`Network::posterior`] with all the pieces.
pub fn sequential(
    network: &Network,
    odds: &[f64],
    evidence: &[Evidence],
) -> Result<Sequential, Impossible> {
    let balance = network.log_odds_in_order(odds, evidence)?;
    let prior = network.posterior(&[], &[])?.log_odds;
    let history = balance.first().map_or_else(Vec::new, |start| weights(&prior, start));
    Ok(Sequential {
        history,
        pieces: balance.windows(2).map(|pair| weights(&pair[0], &pair[1])).collect(),
        prior: prior.into_iter().map(Weight).collect(),
        balance: balance.into_iter().map(|row| row.into_iter().map(Weight).collect()).collect(),
    })
}

impl LeaveOneOut {
    /// What a piece weighs for a cause; nothing if either does not exist.
    #[must_use]
    pub fn weight(&self, piece: usize, cause: usize) -> Option<Weight> {
        self.pieces.get(piece)?.get(cause).copied()
    }

    /// The pieces that speak for a cause, the weightiest first; of equals, the earlier first.
    #[must_use]
    pub fn reasons_for(&self, cause: usize) -> Vec<(usize, Weight)> {
        let mut reasons = self.reasons(cause, |weight| weight.0 > 0.0);
        reasons.sort_by(|(_, one), (_, other)| other.0.total_cmp(&one.0));
        reasons
    }

    /// The pieces that speak against a cause, the weightiest first; of equals, the earlier first.
    #[must_use]
    pub fn reasons_against(&self, cause: usize) -> Vec<(usize, Weight)> {
        let mut reasons = self.reasons(cause, |weight| weight.0 < 0.0);
        reasons.sort_by(|(_, one), (_, other)| one.0.total_cmp(&other.0));
        reasons
    }

    fn reasons(&self, cause: usize, counts: impl Fn(Weight) -> bool) -> Vec<(usize, Weight)> {
        let weights = self.pieces.iter().enumerate();
        weights
            .filter_map(|(piece, weights)| Some((piece, *weights.get(cause)?)))
            .filter(|(_, weight)| counts(*weight))
            .collect()
    }
}

impl Sequential {
    /// What a piece changed for a cause when it came; nothing if either does not exist.
    #[must_use]
    pub fn weight(&self, piece: usize, cause: usize) -> Option<Weight> {
        self.pieces.get(piece)?.get(cause).copied()
    }
}

fn weights(before: &[f64], after: &[f64]) -> Vec<Weight> {
    before.iter().zip(after).map(|(before, after)| Weight::between(*before, *after)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::network::{CauseModel, FindingModel, Model};

    fn network() -> Network {
        let cause = |prior| CauseModel { prior, brought_by: vec![] };
        let finding = |first: f64, second: f64| FindingModel {
            background: vec![1.0, 0.0],
            shown_by: vec![(0, vec![1.0 - first, first]), (1, vec![1.0 - second, second])],
            hidden_by: vec![],
        };
        let findings = vec![finding(0.5, 0.5), finding(0.8, 0.0), finding(0.2, 0.6)];
        Network::new(Model { causes: vec![cause(0.2), cause(0.3)], findings }).unwrap()
    }

    fn seen(finding: usize, outcome: usize) -> Evidence {
        Evidence::Seen { finding, outcome }
    }

    #[test]
    fn a_piece_that_proves_a_cause_weighs_without_bound() {
        // Without any background, the second finding proves the first cause.
        let ledger = leave_one_out(&network(), &[], &[seen(0, 1), seen(1, 1)]).unwrap();
        assert_eq!(ledger.weight(1, 0).unwrap().nats(), f64::INFINITY);
        assert_eq!(ledger.weight(0, 0).unwrap().nats(), 0.0);
        let story = sequential(&network(), &[], &[seen(1, 1), seen(0, 1)]).unwrap();
        assert_eq!(story.weight(0, 0).unwrap().nats(), f64::INFINITY);
        assert_eq!(story.weight(1, 0).unwrap().nats(), 0.0);
        assert_eq!(story.balance[2][0].nats(), f64::INFINITY);
    }

    #[test]
    fn reasons_stand_by_weight_and_on_their_side() {
        let pieces = [seen(0, 1), seen(1, 0), seen(2, 1)];
        let ledger = leave_one_out(&network(), &[], &pieces).unwrap();
        let against: Vec<usize> = ledger.reasons_against(0).iter().map(|r| r.0).collect();
        assert_eq!(against, [1, 2]);
        let second: Vec<usize> = ledger.reasons_for(1).iter().map(|r| r.0).collect();
        assert_eq!(second, [1, 2, 0]);
        // By hand: the odds are .07812 / .0028 with all pieces, .1026 / .014 without the second.
        let factor = ledger.weight(1, 1).unwrap().factor();
        assert!((factor - (0.07812 / 0.0028) / (0.1026 / 0.014)).abs() < 1e-9);
        assert!(ledger.reasons_for(9).is_empty());
        assert_eq!(ledger.weight(3, 0), None);
    }

    #[test]
    fn history_is_booked_apart_and_weighs_its_factor() {
        let odds = [3.0, 1.0];
        let pieces = [seen(0, 1)];
        let story = sequential(&network(), &odds, &pieces).unwrap();
        assert!((story.history[0].factor() - 3.0).abs() < 1e-12);
        assert!((story.prior[0].factor() - 0.25).abs() < 1e-12);
        let posterior = network().posterior(&odds, &pieces).unwrap();
        let sum = story.prior[0].nats() + story.history[0].nats() + story.pieces[0][0].nats();
        assert!((sum - posterior.log_odds[0]).abs() < 1e-12);
        // The odds of a cause that nothing brings move by exactly its factor; those of the
        // other cause that explains the finding fall.
        let ledger = leave_one_out(&network(), &odds, &pieces).unwrap();
        assert!((ledger.history[0].factor() - 3.0).abs() < 1e-12);
        assert!(ledger.history[1].nats() < 0.0);
    }
}
