//! The odds of the causes with one piece of evidence left out, and piece by piece.

use super::compile::Network;
use super::evidence::{Evidence, Impossible};
use super::factor::Factor;
use super::prepare::Prepared;
use super::weights::{Care, Sums, Weights};
use std::ops::Range;

/// What all pieces of evidence but one say together, to be looked at before it is given up.
#[derive(Debug)]
pub struct Rest<'w> {
    weights: &'w Weights,
    sums: Sums,
    causes: usize,
}

impl Rest<'_> {
    /// The natural logarithm of the odds of each cause.
    #[must_use]
    pub fn log_odds(&self) -> Vec<f64> {
        self.sums.log_odds(self.causes)
    }

    /// The weight of all states together, but for the factor that their weights have in common.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.sums.total()
    }

    /// The weights of the states as those of a posterior but for a common factor: by runs, each
    /// with its first state. States in none of the runs weigh nothing.
    pub fn runs(&self) -> impl Iterator<Item = (usize, &[f64])> + Clone {
        self.weights.runs()
    }
}

/// What some pieces of evidence make of the states, before others are brought.
#[derive(Clone, Debug)]
pub(in crate::evidence) struct Partly {
    weights: Weights,
}

impl Partly {
    /// The weights of the states by runs, see [`Rest::runs`].
    pub(in crate::evidence) fn runs(&self) -> impl Iterator<Item = (usize, &[f64])> + Clone {
        self.weights.runs()
    }
}

impl Network {
    /// For each piece of evidence, in order, what a look at the states given all the *other* pieces
    /// finds.
    ///
    /// # Errors
    /// As [`posterior`](Self::posterior) with all the pieces.
    pub fn without_each<T>(
        &self,
        odds: &[f64],
        evidence: &[Evidence],
        look: &mut dyn FnMut(&Rest<'_>) -> T,
    ) -> Result<Vec<T>, Impossible> {
        let Begun { prepared, weights: prior, care, all } = self.begin(odds, evidence)?;
        let causes = self.causes();
        let mut found = Vec::with_capacity(prepared.pieces.len());
        for piece in 0..prepared.pieces.len() {
            let weights = match prepared.turned(piece).filter(|_| care == Care::Quick) {
                Some(turned) => all.times(&turned),
                None => prepared.others(piece, &prior, care),
            };
            found.push(look(&Rest { sums: weights.sums(), weights: &weights, causes }));
        }
        Ok(found)
    }

    /// What some pieces of evidence make of the states.
    ///
    /// # Errors
    /// [`Impossible`] if the odds or the evidence don't fit the network. Where no state could
    /// produce the evidence, every weight is 0.
    pub(in crate::evidence) fn partly(
        &self,
        odds: &[f64],
        evidence: &[Evidence],
    ) -> Result<Partly, Impossible> {
        let prepared = self.prepare(evidence)?;
        let prior = self.prior.weights(odds)?;
        let mut weights = prior.clone();
        weights.multiply(&prepared.factors, Care::Quick);
        if weights.sums().is_tiny() {
            weights = prior;
            weights.multiply(&prepared.factors, Care::Careful);
        }
        weights.lift();
        Ok(Partly { weights })
    }

    /// The weight of every state once the other pieces are brought too. `partly` is of this
    /// network, or of one that differs in findings of the other pieces only. The weights have a
    /// factor in common that depends on `partly` and on what the pieces hold, and on no number of
    /// the network's.
    ///
    /// # Errors
    /// [`Impossible`] if the pieces don't fit the network.
    pub(in crate::evidence) fn completed(
        &self,
        partly: &Partly,
        evidence: &[Evidence],
    ) -> Result<Partly, Impossible> {
        let mut weights = partly.weights.clone();
        weights.multiply(&self.prepare(evidence)?.factors, Care::Quick);
        Ok(Partly { weights })
    }

    /// The natural logarithm of the odds of each cause before any piece of evidence, after the
    /// first, after the second and so on to the last: one row more than there are pieces.
    ///
    /// # Errors
    /// As [`posterior`](Self::posterior) with all the pieces.
    pub fn log_odds_in_order(
        &self,
        odds: &[f64],
        evidence: &[Evidence],
    ) -> Result<Vec<Vec<f64>>, Impossible> {
        let Begun { prepared, mut weights, care, .. } = self.begin(odds, evidence)?;
        let mut found = vec![weights.sums().log_odds(self.causes())];
        for piece in &prepared.pieces {
            weights.multiply(&prepared.factors[piece.clone()], care);
            found.push(weights.sums().log_odds(self.causes()));
        }
        Ok(found)
    }

    fn begin(&self, odds: &[f64], evidence: &[Evidence]) -> Result<Begun<'_>, Impossible> {
        let prepared = self.prepare(evidence)?;
        let weights = self.prior.weights(odds)?;
        for care in [Care::Quick, Care::Careful] {
            let mut all = weights.clone();
            all.multiply(&prepared.factors, care);
            let is_enough = match care {
                Care::Quick => !all.sums().is_tiny(),
                Care::Careful => all.sums().total() > 0.0,
            };
            if is_enough {
                return Ok(Begun { prepared, weights, care, all });
            }
        }
        Err(Impossible::Contradiction)
    }
}

/// What every way of leaving out begins with.
struct Begun<'a> {
    prepared: Prepared<'a>,
    /// The prior weights.
    weights: Weights,
    /// The care that all the factors together need: a part of them never needs more, since no
    /// factor is above 1.
    care: Care,
    /// The weights with all the factors.
    all: Weights,
}

impl Prepared<'_> {
    /// What takes a piece out again by multiplying; none where one of its factors is so small that
    /// a weight may have been lost by it.
    fn turned(&self, piece: usize) -> Option<Vec<Factor<'static>>> {
        self.factors[self.pieces[piece].clone()].iter().map(Factor::turned).collect()
    }

    /// The prior weights with every piece but one.
    fn others(&self, piece: usize, prior: &Weights, care: Care) -> Weights {
        let Range { start, end } = self.pieces[piece].clone();
        let mut weights = prior.clone();
        weights.multiply(&self.factors[..start], care);
        weights.multiply(&self.factors[end..], care);
        weights
    }
}
