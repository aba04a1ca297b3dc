//! The odds of the causes with one piece of evidence left out, and piece by piece.

use super::compile::Network;
use super::evidence::{Evidence, Impossible};
use super::factor::Factor;
use super::prepare::Prepared;
use super::weights::{Care, Weights};
use std::ops::Range;

/// What all pieces of evidence but one say together.
#[derive(Clone, Debug, PartialEq)]
pub struct Without {
    /// The natural logarithm of the odds of each cause.
    pub log_odds: Vec<f64>,
    /// The probability that none of certain causes is there.
    pub none: f64,
}

impl Network {
    /// For each piece of evidence, the odds of each cause given all the *other* pieces, and the
    /// probability that none of the given causes is there. Causes that don't exist never are.
    ///
    /// # Errors
    /// As [`posterior`](Self::posterior) with all the pieces.
    pub fn without_each(
        &self,
        odds: &[f64],
        evidence: &[Evidence],
        causes: &[usize],
    ) -> Result<Vec<Without>, Impossible> {
        let (prepared, weights, care) = self.begin(odds, evidence)?;
        let known = causes.iter().filter(|cause| **cause < self.causes());
        let mut halving = Halving {
            prepared: &prepared,
            care,
            causes: self.causes(),
            asked: known.fold(0, |mask, cause| mask | 1 << cause),
            found: Vec::new(),
        };
        halving.leave_out(weights, 0..prepared.pieces.len());
        Ok(halving.found)
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
struct Halving<'a> {
    prepared: &'a Prepared<'a>,
    care: Care,
    causes: usize,
    /// The causes of which none may be there, as bits.
    asked: usize,
    found: Vec<Without>,
}

impl Halving<'_> {
    /// With everything outside the range multiplied in already.
    fn leave_out(&mut self, weights: Weights, pieces: Range<usize>) {
        match pieces.len() {
            0 => {}
            1 => {
                let sums = weights.sums();
                let none = match self.asked {
                    0 => 1.0,
                    asked => weights.without(asked) / sums.total(),
                };
                self.found.push(Without { log_odds: sums.log_odds(self.causes), none });
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
