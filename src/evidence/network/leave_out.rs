//! The odds of the causes with one piece of evidence left out, and piece by piece.

use super::compile::Network;
use super::evidence::{Evidence, Impossible};
use super::factor::Factor;
use super::model::CauseModel;
use super::prepare::Prepared;
use super::weights::{Care, Sums, Weights};

/// What some of the pieces of evidence say together, to be looked at before it is given up.
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

    /// The weight of the states in which none of these causes is there, but for the same factor.
    #[must_use]
    pub fn without_any(&self, causes: &[usize]) -> f64 {
        let mask = causes.iter().fold(0, |mask, cause| mask | 1_usize << cause);
        let runs = self.runs().filter(|(first, _)| first & mask == 0);
        let none = |run: &[f64]| -> f64 {
            run.iter().enumerate().filter(|(lane, _)| lane & mask == 0).map(|(_, w)| w).sum()
        };
        runs.map(|(_, run)| none(run)).sum()
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
        Ok(self.whole(odds, evidence)?.without_each(look))
    }

    /// What a look at the states finds before any evidence; and, for each piece of evidence in
    /// order, given that piece alone, none for one that no state could produce.
    ///
    /// # Errors
    /// [`Impossible`] if the odds or the evidence don't fit the network.
    pub fn each_by_itself<T>(
        &self,
        odds: &[f64],
        evidence: &[Evidence],
        look: &dyn Fn(&Rest<'_>) -> T,
    ) -> Result<(T, Vec<Option<T>>), Impossible> {
        let prepared = self.prepare(evidence)?;
        let prior = self.prior.weights(odds)?;
        let look_at = |weights: &Weights| {
            let rest = Rest { sums: weights.sums(), weights, causes: self.causes() };
            (rest.total() > 0.0).then(|| look(&rest))
        };
        let before = look_at(&prior).ok_or(Impossible::Contradiction)?;
        let pieces = prepared.pieces.iter();
        let alone = pieces.map(|piece| look_at(&prior.times(&prepared.factors[piece.clone()])));
        Ok((before, alone.collect()))
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
        Ok(Partly { weights: partly.weights.times(&self.prepare(evidence)?.factors) })
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
        let Whole { prepared, prior: mut weights, care, .. } = self.whole(odds, evidence)?;
        let mut found = vec![weights.sums().log_odds(self.causes())];
        for piece in &prepared.pieces {
            weights.multiply(&prepared.factors[piece.clone()], care);
            found.push(weights.sums().log_odds(self.causes()));
        }
        Ok(found)
    }

    /// All pieces of evidence brought to the states.
    ///
    /// # Errors
    /// As [`posterior`](Self::posterior).
    pub(in crate::evidence) fn whole(
        &self,
        odds: &[f64],
        evidence: &[Evidence],
    ) -> Result<Whole<'_>, Impossible> {
        let prepared = self.prepare(evidence)?;
        let prior = self.prior.weights(odds)?;
        for care in [Care::Quick, Care::Careful] {
            let mut all = prior.clone();
            all.multiply(&prepared.factors, care);
            let is_enough = match care {
                Care::Quick => !all.sums().is_tiny(),
                Care::Careful => all.sums().total() > 0.0,
            };
            if is_enough {
                return Ok(Whole {
                    network: self,
                    odds: odds.to_vec(),
                    prepared,
                    prior,
                    care,
                    all,
                });
            }
        }
        Err(Impossible::Contradiction)
    }
}

/// All pieces of evidence on the states: what every way of leaving out or moving something begins
/// with.
#[derive(Debug)]
pub(in crate::evidence) struct Whole<'a> {
    network: &'a Network,
    odds: Vec<f64>,
    prepared: Prepared<'a>,
    /// The prior weights.
    prior: Weights,
    /// The care that all the factors together need: a part of them never needs more, since no
    /// factor is above 1.
    care: Care,
    /// The weights with all the factors.
    all: Weights,
}

impl<'a> Whole<'a> {
    /// The network.
    pub(in crate::evidence) fn network(&self) -> &'a Network {
        self.network
    }

    /// The factors on the odds of each cause; 1 for those beyond the last.
    pub(in crate::evidence) fn odds(&self) -> &[f64] {
        &self.odds
    }

    /// For each piece of evidence, in order, what a look at the states given all the *other* pieces
    /// finds.
    pub(in crate::evidence) fn without_each<T>(
        &self,
        look: &mut dyn FnMut(&Rest<'_>) -> T,
    ) -> Vec<T> {
        let causes = self.network.causes();
        let look_without = |piece| {
            let weights = self.without(&[piece]).weights;
            look(&Rest { sums: weights.sums(), weights: &weights, causes })
        };
        (0..self.prepared.pieces.len()).map(look_without).collect()
    }

    /// What all the pieces but those at these places make of the states. Taken out again by
    /// multiplying, where no weight may have been lost by one of them.
    pub(in crate::evidence) fn without(&self, pieces: &[usize]) -> Partly {
        let turned = |piece: &usize| self.prepared.turned(*piece);
        let turned: Option<Vec<_>> = pieces.iter().map(turned).collect();
        let weights = match turned.filter(|_| self.care == Care::Quick) {
            Some(turned) => self.all.times(&turned.into_iter().flatten().collect::<Vec<_>>()),
            None => self.others(pieces),
        };
        Partly { weights }
    }

    /// What the pieces make of the states once a cause is told otherwise, as far as its own base
    /// rate goes; the weights have a factor in common with those of any other rate of this cause.
    /// None where that can't be told from the weights, or there is no such cause.
    pub(in crate::evidence) fn with_cause(
        &self,
        cause: usize,
        told: &CauseModel,
    ) -> Option<Partly> {
        let moved = self.network.prior.moved(&self.odds, cause, told)?;
        Some(Partly { weights: self.all.times(&[moved]) })
    }

    /// The prior weights with every piece but those at these places.
    fn others(&self, pieces: &[usize]) -> Weights {
        let kept = self.prepared.pieces.iter().enumerate();
        let kept = kept.filter(|(place, _)| !pieces.contains(place));
        let factors: Vec<Factor<'_>> = kept
            .flat_map(|(_, factors)| &self.prepared.factors[factors.clone()])
            .map(Factor::view)
            .collect();
        let mut weights = self.prior.clone();
        weights.multiply(&factors, self.care);
        weights
    }
}

impl Prepared<'_> {
    /// What takes a piece out again by multiplying; none where one of its factors is so small that
    /// a weight may have been lost by it.
    fn turned(&self, piece: usize) -> Option<Vec<Factor<'static>>> {
        self.factors[self.pieces[piece].clone()].iter().map(Factor::turned).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::evidence::Pattern;
    use super::super::model::{FindingModel, Model};
    use super::super::posterior::Posterior;
    use super::*;

    fn brought_by(by: &[usize]) -> CauseModel {
        CauseModel { prior: 0.1, brought_by: by.iter().map(|by| (*by, 0.4)).collect() }
    }

    fn pattern(weight: f64, outcomes: [usize; 2]) -> Pattern {
        Pattern { weight, outcomes: outcomes.into_iter().map(Some).collect() }
    }

    /// Four causes in a chain and apart, a finding that one of the chain shows and another hides,
    /// against the posterior of each piece alone; one that nothing could show is none.
    #[test]
    fn a_piece_by_itself_says_what_its_posterior_does() {
        let causes = vec![brought_by(&[2]), brought_by(&[]), brought_by(&[]), brought_by(&[])];
        let finding = |shown: usize, hidden: usize, background: [f64; 2]| FindingModel {
            background: background.to_vec(),
            shown_by: vec![(shown, vec![0.3, 0.7])],
            hidden_by: vec![(hidden, 0.5)],
        };
        let findings = vec![finding(0, 1, [0.9, 0.1]), finding(3, 0, [0.9, 0.1])];
        let network = Network::new(Model { causes, findings }).unwrap();
        let (odds, now) = ([2.0, 0.5, 1.0, 3.0], [0, 1, 3]);
        let evidence = [
            Evidence::Joint {
                findings: vec![0, 1],
                patterns: vec![pattern(0.75, [1, 0]), pattern(0.25, [0, 1])],
            },
            Evidence::Seen { finding: 0, outcome: 1 },
            Evidence::Seen { finding: 1, outcome: 0 },
        ];
        let look = |rest: &Rest<'_>| (rest.log_odds(), rest.without_any(&now) / rest.total());
        let assert_is = |(log_odds, none): &(Vec<f64>, f64), posterior: &Posterior| {
            for (told, exact) in log_odds.iter().zip(&posterior.log_odds) {
                assert!((told - exact).abs() < 1e-12, "{log_odds:?} {posterior:?}");
            }
            assert!((none - (1.0 - posterior.any_of(&now))).abs() < 1e-12);
        };
        for piece in evidence {
            let piece = std::slice::from_ref(&piece);
            let (before, alone) = network.each_by_itself(&odds, piece, &look).unwrap();
            assert_is(&before, &network.posterior(&odds, &[]).unwrap());
            assert_is(alone[0].as_ref().unwrap(), &network.posterior(&odds, piece).unwrap());
        }
    }
}
