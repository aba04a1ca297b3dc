//! How likely each state is before anything is seen.

use super::block::{Block, LANES, LOW, multiply};
use super::check::net_chance;
use super::evidence::Impossible;
use super::factor::{Factor, Product};
use super::live::Live;
use super::model::CauseModel;
use super::scope::Scope;
use super::weights::Weights;

/// The causes' own priors, and which of them bring others.
#[derive(Clone, Debug)]
pub(super) struct Prior {
    bits: usize,
    own: Vec<f64>,
    brought: Vec<Brought>,
    /// The states that can be.
    live: Live,
    /// Their weights without any history.
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
        let brought: Vec<Brought> = causes
            .iter()
            .enumerate()
            .filter(|(_, told)| !told.brought_by.is_empty())
            .map(|(cause, told)| Brought::new(bits, causes.len(), cause, told))
            .collect();
        let live = possible(bits, &own, &brought);
        let mut prior = Self { bits, own, brought, live, plain: Vec::new() };
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
        let blocks = own.map_or_else(plain, |own| self.states(&own, &self.nothing_seen()));
        Ok(Weights::new(blocks, self.live.clone()))
    }

    /// The same, multiplied by a product.
    pub(super) fn weights_times(
        &self,
        odds: &[f64],
        product: &Product,
    ) -> Result<Weights, Impossible> {
        let own = self.own_with(odds)?;
        let blocks = self.states(own.as_ref().unwrap_or(&self.own), product);
        Ok(Weights::new(blocks, self.live.clone()))
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
        Ok(Some(self.own.iter().zip(odds).map(|(own, odds)| with_history(*own, *odds)).collect()))
    }

    /// What the weights are multiplied by when a cause is told otherwise, as far as its own base
    /// rate goes. None where a weight that is 0 would be another, or there is no such cause.
    pub(super) fn moved(
        &self,
        odds: &[f64],
        cause: usize,
        told: &CauseModel,
    ) -> Option<Factor<'static>> {
        let of_cause = odds.get(cause).copied().unwrap_or(1.0);
        let from = with_history(*self.own.get(cause)?, of_cause);
        let to = with_history(told.prior, of_cause);
        let Some(brought) = self.brought.iter().find(|brought| brought.cause == cause) else {
            let start = ratio(1.0 - from, 1.0 - to)?;
            let mut product = Product { start, ratios: vec![1.0; self.causes()] };
            product.ratios[cause] = ratio(from, to)? / start;
            let scope = Scope::new(self.bits, std::iter::once(cause));
            return Some(Factor::owned(scope.product(&product), scope));
        };
        let moved = Brought::new(self.bits, self.causes(), cause, told);
        let mut rows = moved.factor(to).rows.into_owned();
        let before = brought.factor(from);
        let numbers = rows.as_flattened_mut().iter_mut().zip(before.rows.as_flattened());
        for (number, before) in numbers {
            *number = ratio(*before, *number)?;
        }
        Some(Factor::owned(rows, moved.scope))
    }

    fn nothing_seen(&self) -> Product {
        Product::of(self.own.len(), std::iter::empty())
    }

    fn states(&self, own: &[f64], product: &Product) -> Vec<Block> {
        let mut states = independent(self.bits, product.start, &self.live, |cause| {
            let (with, without) = self.chance_alone(cause, own);
            (with * product.ratio(cause), without)
        });
        for brought in &self.brought {
            let factor = brought.factor(own[brought.cause]);
            for (place, weights) in self.live.places().iter().zip(&mut states) {
                multiply(weights, factor.row(*place as usize));
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

/// A base rate after its history.
fn with_history(own: f64, odds: f64) -> f64 {
    own * odds / (1.0 - own + own * odds)
}

/// By what a number is multiplied to be another; what is nothing and stays it by any.
fn ratio(from: f64, to: f64) -> Option<f64> {
    match from > 0.0 {
        true => Some(to / from),
        false => (to <= 0.0).then_some(1.0),
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

/// The states that can be. One that can't without a history can't with one: no odds make a chance
/// of 0 or 1 another.
fn possible(bits: usize, own: &[f64], brought: &[Brought]) -> Live {
    let is_brought = |cause: usize| brought.iter().any(|brought| brought.cause == cause);
    let settled = (LOW..own.len()).filter(|cause| !is_brought(*cause));
    let (mut never, mut always) = (0_usize, 0_usize);
    for cause in settled {
        let bit = 1 << (cause - LOW);
        never |= if own[cause] <= 0.0 { bit } else { 0 };
        always |= if own[cause] >= 1.0 { bit } else { 0 };
    }
    let tables: Vec<(Vec<bool>, &[u32])> = brought
        .iter()
        .map(|brought| {
            let factor = brought.factor(own[brought.cause]);
            let weighs = |row: &Block| row.iter().any(|number| *number > 0.0);
            (factor.rows.iter().map(weighs).collect(), brought.scope.row_of())
        })
        .collect();
    Live::of(1 << (bits - LOW), |block| {
        block & never == 0
            && block & always == always
            && tables.iter().all(|(weighs, row_of)| weighs[row_of[block] as usize])
    })
}

/// The product of a start and, over all bits, the factor with or without the bit; of the blocks
/// that are live.
fn independent(
    bits: usize,
    start: f64,
    live: &Live,
    factors: impl Fn(usize) -> (f64, f64),
) -> Vec<Block> {
    let mut first = [start; LANES];
    for bit in 0..LOW {
        let (with, without) = factors(bit);
        for (lane, weight) in first.iter_mut().enumerate() {
            *weight *= if lane & (1 << bit) == 0 { without } else { with };
        }
    }
    let mut high = Vec::with_capacity(live.all());
    high.push(1.0);
    for bit in LOW..bits {
        let (with, without) = factors(bit);
        for place in 0..high.len() {
            let lower = high[place];
            high.push(lower * with);
            high[place] = lower * without;
        }
    }
    live.places().iter().map(|place| first.map(|weight| weight * high[*place as usize])).collect()
}
