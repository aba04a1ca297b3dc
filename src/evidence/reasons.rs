//! Reasons: what each piece of evidence does to the verdict, given all the rest.

use super::joint::Piece;
use super::ledger::{Weight, leave_one_out};
use super::network::{Evidence, Network};
use super::ranking::Now;

/// What one piece of evidence does for one explanation.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The places of the witnesses behind it.
    pub witnesses: Vec<usize>,
    /// The change in the explanation's log-odds that this evidence makes, given all the rest.
    pub weight: Weight,
}

/// A network with its evidence, to be weighed piece by piece.
#[derive(Clone, Copy, Debug)]
pub(super) struct Weighing<'a> {
    pub network: &'a Network,
    pub odds: &'a [f64],
    pub pieces: &'a [Piece],
    pub evidence: &'a [Evidence],
}

impl Weighing<'_> {
    /// The reasons for and against each node, strongest first.
    pub(super) fn reasons(&self, nodes: &[usize]) -> Vec<Vec<Reason>> {
        let Ok(ledger) = leave_one_out(self.network, self.odds, self.evidence) else {
            return vec![Vec::new(); nodes.len()];
        };
        let of_node = |&node: &usize| self.sorted(ledger.pieces.iter().map(|row| row[node]));
        nodes.iter().map(of_node).collect()
    }

    /// The reasons for and against nothing being wrong now.
    pub(super) fn reasons_for_nothing(&self, now: &Now, with_all: f64) -> Vec<Reason> {
        let without = |place: usize| {
            let mut rest = self.evidence.to_vec();
            rest.remove(place);
            self.network.posterior(self.odds, &rest).map_or(with_all, |p| now.nothing(&p))
        };
        let weight = |place| Weight::from_nats(log_odds(with_all) - log_odds(without(place)));
        self.sorted((0..self.evidence.len()).map(weight))
    }

    fn sorted(&self, weights: impl Iterator<Item = Weight>) -> Vec<Reason> {
        let reason = |(piece, weight): (&Piece, Weight)| Reason {
            witnesses: piece.witnesses.clone(),
            weight,
        };
        let mut reasons: Vec<Reason> = self.pieces.iter().zip(weights).map(reason).collect();
        reasons.sort_by(|a, b| b.weight.nats().abs().total_cmp(&a.weight.nats().abs()));
        reasons
    }
}

/// Held away from certainty, where the odds have no end.
fn log_odds(probability: f64) -> f64 {
    let held = probability.clamp(1e-12, 1.0 - 1e-12);
    libm::log(held / (1.0 - held))
}
