//! How likely each state is before anything is seen.

use super::block::{Block, LANES, LOW, multiply};
use super::check::net_chance;
use super::evidence::Impossible;
use super::factor::{Factor, Product};
use super::model::CauseModel;
use super::scope::Scope;
use super::weights::Weights;

/// The causes' own priors, and which of them bring others.
#[derive(Clone, Debug)]
pub(super) struct Prior {
    bits: usize,
    own: Vec<f64>,
    brought: Vec<Brought>,
    /// The states' weights without any history.
    plain: Vec<Block>,
}

/// A cause that others bring.
#[derive(Clone, Debug)]
struct Brought {
    cause: usize,
    scope: Scope,
    /// The probability that none of the bringing causes there brings it, by row and lane.
    spared: Vec<Block>,
}

impl Prior {
    /// For checked causes, in a network whose states have `bits` bits.
    pub(super) fn new(bits: usize, causes: &[CauseModel]) -> Self {
        let own: Vec<f64> = causes.iter().map(|cause| cause.prior).collect();
        let brought = causes
            .iter()
            .enumerate()
            .filter(|(_, told)| !told.brought_by.is_empty())
            .map(|(cause, told)| Brought::new(bits, causes.len(), cause, told))
            .collect();
        let mut prior = Self { bits, own, brought, plain: Vec::new() };
        prior.plain = prior.states(&prior.own, &prior.nothing_seen());
        prior
    }

    /// How many causes there are.
    pub(super) fn causes(&self) -> usize {
        self.own.len()
    }

    /// The states' weights, with the odds of each cause's own prior multiplied by its factor. No
    /// factors at all means that there is no history.
    pub(super) fn weights(&self, odds: &[f64]) -> Result<Weights, Impossible> {
        let own = self.own_with(odds)?;
        let plain = || self.plain.clone();
        Ok(Weights::new(own.map_or_else(plain, |own| self.states(&own, &self.nothing_seen()))))
    }

    /// The same, multiplied by a product.
    pub(super) fn weights_times(
        &self,
        odds: &[f64],
        product: &Product,
    ) -> Result<Weights, Impossible> {
        let own = self.own_with(odds)?;
        Ok(Weights::new(self.states(own.as_ref().unwrap_or(&self.own), product)))
    }

    /// The causes' own priors after their history, if there is one.
    fn own_with(&self, odds: &[f64]) -> Result<Option<Vec<f64>>, Impossible> {
        if odds.is_empty() {
            return Ok(None);
        }
        if odds.len() != self.own.len() {
            return Err(Impossible::OddsCount { given: odds.len(), causes: self.own.len() });
        }
        if let Some(cause) = odds.iter().position(|odds| !(*odds > 0.0 && odds.is_finite())) {
            return Err(Impossible::Odds { cause, odds: odds[cause] });
        }
        let with_history = |(p, o): (&f64, &f64)| p * o / (1.0 - p + p * o);
        Ok(Some(self.own.iter().zip(odds).map(with_history).collect()))
    }

    fn nothing_seen(&self) -> Product {
        Product::of(self.own.len(), std::iter::empty())
    }

    fn states(&self, own: &[f64], product: &Product) -> Vec<Block> {
        let mut states = independent(self.bits, product.start, |cause| {
            let (with, without) = self.chance_alone(cause, own);
            (with * product.ratio(cause), without)
        });
        for brought in &self.brought {
            let factor = brought.factor(own[brought.cause]);
            for (block, weights) in states.iter_mut().enumerate() {
                multiply(weights, factor.row(block));
            }
        }
        states
    }

    /// The factors of a state with and without the cause, as far as no other cause matters.
    fn chance_alone(&self, cause: usize, own: &[f64]) -> (f64, f64) {
        match own.get(cause) {
            // A bit beyond the last cause is never set.
            None => (0.0, 1.0),
            Some(_) if self.brought.iter().any(|brought| brought.cause == cause) => (1.0, 1.0),
            Some(own) => (*own, 1.0 - own),
        }
    }
}

impl Brought {
    fn new(bits: usize, causes: usize, cause: usize, told: &CauseModel) -> Self {
        let bringers = told.brought_by.iter().map(|(by, _)| *by);
        let scope = Scope::new(bits, bringers.chain([cause]));
        let mut spared = Product::of(causes, std::iter::empty());
        for (by, compound) in &told.brought_by {
            spared.ratios[*by] = 1.0 - net_chance(told.prior, *compound);
        }
        Self { cause, spared: scope.product(&spared), scope }
    }

    /// The probability of the cause being as it is in each state, given the bringing causes.
    fn factor(&self, own: f64) -> Factor<'_> {
        let mut rows = self.spared.clone();
        for (row, block) in rows.iter_mut().enumerate() {
            for (lane, number) in block.iter_mut().enumerate() {
                let spared = *number;
                *number = if self.scope.is_there(self.cause, row, lane) {
                    own + (1.0 - own) * (1.0 - spared)
                } else {
                    (1.0 - own) * spared
                };
            }
        }
        Factor::made(rows, &self.scope)
    }
}

/// The product of a start and, over all bits, the factor with or without the bit.
fn independent(bits: usize, start: f64, factors: impl Fn(usize) -> (f64, f64)) -> Vec<Block> {
    let mut first = [start; LANES];
    for bit in 0..LOW {
        let (with, without) = factors(bit);
        for (lane, weight) in first.iter_mut().enumerate() {
            *weight *= if lane & (1 << bit) == 0 { without } else { with };
        }
    }
    let mut states = vec![[0.0; LANES]; 1 << (bits - LOW)];
    states[0] = first;
    for bit in LOW..bits {
        let (with, without) = factors(bit);
        let (lower, upper) = states.split_at_mut(1 << (bit - LOW));
        for (lower, upper) in lower.iter_mut().zip(upper) {
            for (lower, upper) in lower.iter_mut().zip(upper) {
                *upper = *lower * with;
                *lower *= without;
            }
        }
    }
    states
}
