//! How likely each state is once the evidence is in.

use super::compile::Network;
use super::evidence::{Evidence, Impossible};
use super::factor::Product;
use super::weights::{Care, log_odds};

/// Probabilities of states and causes, given the evidence.
#[derive(Clone, Debug, PartialEq)]
pub struct Posterior {
    /// The probability of each state, summing to 1; bit `k` of the place set means that cause
    /// `k` is there.
    pub states: Vec<f64>,
    /// The probability of each cause. Several may be there at once, so these need not sum to 1.
    pub marginals: Vec<f64>,
    /// The natural logarithm of the odds of each cause, kept apart since it still tells 1 in
    /// 10^20 from 0 where the probability is next to 1. Infinite where a cause is certain or
    /// excluded.
    pub log_odds: Vec<f64>,
    /// The probability that no cause is there.
    pub nothing: f64,
    /// The probability of the evidence before it was seen. With likelihoods or shares that do
    /// not sum to 1 it carries their scale, and it may fall below the smallest number.
    pub evidence: f64,
    /// The natural logarithm of [`evidence`](Self::evidence), which has no such limit.
    pub log_evidence: f64,
}

impl Network {
    /// The probabilities given the evidence.
    ///
    /// `odds` are factors on the odds of each cause's own prior, from its history; none at all
    /// means 1 for every cause. A factor touches its own cause alone (and, through it, the
    /// causes that it brings).
    ///
    /// # Errors
    /// [`Impossible::Contradiction`] if no state could produce the evidence; another
    /// [`Impossible`] if the odds or the evidence don't fit the network.
    pub fn posterior(&self, odds: &[f64], evidence: &[Evidence]) -> Result<Posterior, Impossible> {
        let mut prepared = self.prepare(evidence)?;
        let products = prepared.factors.iter().filter_map(|factor| factor.product);
        let product = Product::of(self.causes(), products);
        let mut weights = self.prior.weights_times(odds, &product)?;
        prepared.factors.retain(|factor| factor.product.is_none());
        weights.multiply(&prepared.factors, Care::Quick);
        let mut sums = weights.sums();
        if sums.is_tiny() {
            weights = self.prior.weights(odds)?;
            weights.multiply(&self.prepare(evidence)?.factors, Care::Careful);
            sums = weights.sums();
        }
        let total = sums.total();
        if total <= 0.0 {
            return Err(Impossible::Contradiction);
        }
        let causes = self.causes();
        let splits = sums.splits(causes);
        let log_evidence = libm::log(total) + weights.log_scale() + prepared.log_scale;
        let mut states = weights.normalised(total);
        states.truncate(1 << causes);
        Ok(Posterior {
            nothing: states[0],
            marginals: splits.iter().map(|(with, _)| (with / total).min(1.0)).collect(),
            log_odds: splits.into_iter().map(log_odds).collect(),
            states,
            evidence: libm::exp(log_evidence),
            log_evidence,
        })
    }
}

impl Posterior {
    /// The probability that at least one of these causes is there. Causes that don't exist
    /// are never there.
    #[must_use]
    pub fn any_of(&self, causes: &[usize]) -> f64 {
        let mask = causes
            .iter()
            .filter(|cause| **cause < self.marginals.len())
            .fold(0, |mask, cause| mask | 1_usize << cause);
        let there = self.states.iter().enumerate().filter(|(state, _)| state & mask != 0);
        there.map(|(_, chance)| chance).sum::<f64>().min(1.0)
    }

    /// The likeliest state and its probability; of equals, the one with the lowest number.
    #[must_use]
    pub fn likeliest(&self) -> (usize, f64) {
        let start = (0, self.nothing);
        self.states
            .iter()
            .copied()
            .enumerate()
            .fold(start, |best, candidate| if candidate.1 > best.1 { candidate } else { best })
    }
}
