//! The odds of the causes with one piece of evidence left out, and piece by piece.

use super::compile::Network;
use super::evidence::{Evidence, Impossible};
use super::factor::Factor;
use super::prepare::Prepared;
use super::weights::{Care, Weights};
use std::ops::Range;

/// What all pieces of evidence but one say together, to be looked at before it is given up.
#[derive(Debug)]
pub struct Rest<'w> {
    weights: &'w Weights,
    causes: usize,
}

impl Rest<'_> {
    /// The natural logarithm of the odds of each cause.
    #[must_use]
    pub fn log_odds(&self) -> Vec<f64> {
        self.weights.sums().log_odds(self.causes)
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
        let (prepared, weights, care) = self.begin(odds, evidence)?;
        let pieces = prepared.pieces.len();
        let causes = self.causes();
        let mut halving = Halving { prepared: &prepared, care, causes, look, found: Vec::new() };
        halving.leave_out(weights, 0..pieces);
        Ok(halving.found)
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
        let (prepared, mut weights, care) = self.begin(odds, evidence)?;
        let mut found = vec![weights.sums().log_odds(self.causes())];
        for piece in &prepared.pieces {
            weights.multiply(&prepared.factors[piece.clone()], care);
            found.push(weights.sums().log_odds(self.causes()));
        }
        Ok(found)
    }

    /// The factors, the prior weights, and the care that all the factors together need: a part
    /// of them never needs more, since no factor is above 1.
    fn begin(
        &self,
        odds: &[f64],
        evidence: &[Evidence],
    ) -> Result<(Prepared<'_>, Weights, Care), Impossible> {
        let prepared = self.prepare(evidence)?;
        let prior = self.prior.weights(odds)?;
        let mut all = prior.clone();
        all.multiply(&prepared.factors, Care::Quick);
        if !all.sums().is_tiny() {
            return Ok((prepared, prior, Care::Quick));
        }
        let mut all = prior.clone();
        all.multiply(&prepared.factors, Care::Careful);
        if all.sums().total() > 0.0 {
            Ok((prepared, prior, Care::Careful))
        } else {
            Err(Impossible::Contradiction)
        }
    }
}

/// Leaves out each of many pieces by halves: the factors of one half are multiplied in once for
/// all pieces of the other. Never divides, so that a factor of 0 does no harm.
struct Halving<'a, T> {
    prepared: &'a Prepared<'a>,
    care: Care,
    causes: usize,
    look: &'a mut dyn FnMut(&Rest<'_>) -> T,
    found: Vec<T>,
}

impl<T> Halving<'_, T> {
    /// With everything outside the range multiplied in already.
    fn leave_out(&mut self, weights: Weights, pieces: Range<usize>) {
        match pieces.len() {
            0 => {}
            1 => {
                let rest = Rest { weights: &weights, causes: self.causes };
                self.found.push((self.look)(&rest));
            }
            _ => {
                let middle = pieces.start + pieces.len() / 2;
                let (left, right) = (pieces.start..middle, middle..pieces.end);
                let mut without_left = weights.clone();
                without_left.multiply(self.factors(&right), self.care);
                self.leave_out(without_left, left.clone());
                let mut without_right = weights;
                without_right.multiply(self.factors(&left), self.care);
                self.leave_out(without_right, right);
            }
        }
    }

    fn factors(&self, pieces: &Range<usize>) -> &[Factor<'_>] {
        let ranges = &self.prepared.pieces[pieces.clone()];
        match (ranges.first(), ranges.last()) {
            (Some(first), Some(last)) => &self.prepared.factors[first.start..last.end],
            _ => &[],
        }
    }
}
