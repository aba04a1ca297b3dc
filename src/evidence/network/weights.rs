//! The weight of every state while evidence is multiplied in.

use super::block::{Block, LANES, add, multiply, sum};
use super::factor::Factor;
use super::gather::multiply_all;
use super::live::Live;

/// Below this total, some states' weights may have lost digits to the bottom of the number
/// range, so the product is taken again with care.
const TINY: f64 = 1e-200;

/// Unnormalised weights, by blocks of states.
#[derive(Clone, Debug)]
pub(super) struct Weights {
    /// The blocks that can weigh anything.
    blocks: Vec<Block>,
    live: Live,
    /// The natural logarithm of what the weights have been divided by.
    log_scale: f64,
}

/// How factors are multiplied in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Care {
    /// As they come.
    Quick,
    /// One by one, bringing the weights back into the middle of the number range each time.
    Careful,
}

/// The weights added up in the ways that the probabilities of causes need.
#[derive(Debug)]
pub(super) struct Sums {
    low: Block,
    high: Vec<f64>,
}

impl Weights {
    /// Of the blocks that are live, in their order.
    pub(super) fn new(blocks: Vec<Block>, live: Live) -> Self {
        Self { blocks, live, log_scale: 0.0 }
    }

    /// The natural logarithm of what the weights must be multiplied by.
    pub(super) fn log_scale(&self) -> f64 {
        self.log_scale
    }

    /// Multiplies factors in.
    pub(super) fn multiply(&mut self, factors: &[Factor<'_>], care: Care) {
        match care {
            Care::Quick => multiply_all(&mut self.blocks, &self.live, factors),
            Care::Careful => {
                for factor in factors {
                    multiply_all(&mut self.blocks, &self.live, std::slice::from_ref(factor));
                    self.lift();
                }
            }
        }
    }

    /// Makes the largest weight 1, unless all are 0.
    pub(super) fn lift(&mut self) {
        let largest = self.blocks.as_flattened().iter().fold(0.0_f64, |most, w| most.max(*w));
        if largest > 0.0 {
            for weight in self.blocks.as_flattened_mut() {
                *weight /= largest;
            }
            self.log_scale += libm::log(largest);
        }
    }

    /// The weights multiplied by factors as they come.
    pub(super) fn times(&self, factors: &[Factor<'_>]) -> Self {
        let Some((first, rest)) = factors.split_first() else { return self.clone() };
        let blocks = self.live.places().iter().zip(&self.blocks).map(|(place, weights)| {
            let (mut product, row) = (*weights, first.row(*place as usize));
            multiply(&mut product, row);
            product
        });
        let mut product = Self { blocks: blocks.collect(), live: self.live.clone(), ..*self };
        product.multiply(rest, Care::Quick);
        product
    }

    /// Adds the weights up.
    pub(super) fn sums(&self) -> Sums {
        let mut low = [0.0; LANES];
        let (fours, rest) = self.blocks.as_chunks::<4>();
        for [a, b, c, d] in fours {
            for lane in 0..LANES {
                low[lane] += (a[lane] + b[lane]) + (c[lane] + d[lane]);
            }
        }
        rest.iter().for_each(|block| add(&mut low, block));
        let mut high = vec![0.0; self.live.all()];
        for (place, block) in self.live.places().iter().zip(&self.blocks) {
            high[*place as usize] = sum(block);
        }
        Sums { low, high }
    }

    /// The weights by runs of states, each with the first of them; states in none weigh nothing.
    pub(super) fn runs(&self) -> impl Iterator<Item = (usize, &[f64])> + Clone {
        let firsts = self.live.places().iter().map(|place| *place as usize * LANES);
        firsts.zip(self.blocks.iter().map(Block::as_slice))
    }

    /// The probability of every state, given the weights' total.
    pub(super) fn normalised(mut self, total: f64) -> Vec<f64> {
        // A total too small for this has been brought to 1 or more by the careful way.
        let reciprocal = 1.0 / total;
        for weight in self.blocks.as_flattened_mut() {
            *weight *= reciprocal;
        }
        self.live.spread(self.blocks)
    }
}

impl Sums {
    /// All weights together.
    pub(super) fn total(&self) -> f64 {
        sum(&self.low)
    }

    /// Whether digits may have been lost.
    pub(super) fn is_tiny(&self) -> bool {
        self.total() < TINY
    }

    /// For each cause, the weights of the states with it and of those without it.
    pub(super) fn splits(&self, causes: usize) -> Vec<(f64, f64)> {
        let mut splits = halves(self.low.to_vec());
        splits.extend(halves(self.high.clone()));
        splits.truncate(causes);
        splits
    }

    /// The natural logarithm of the odds of each cause; infinite where it is certain.
    pub(super) fn log_odds(&self, causes: usize) -> Vec<f64> {
        self.splits(causes).into_iter().map(log_odds).collect()
    }
}

/// The natural logarithm of the odds between two weights.
pub(super) fn log_odds((with, without): (f64, f64)) -> f64 {
    libm::log(with) - libm::log(without)
}

/// For each bit of the place, the sums of the numbers with it and without it; as many numbers
/// as a power of two. The upper half is added to the lower once its bit is done with.
fn halves(mut numbers: Vec<f64>) -> Vec<(f64, f64)> {
    let mut found = Vec::new();
    while numbers.len() > 1 {
        let half = numbers.len() / 2;
        let (lower, upper) = numbers.split_at_mut(half);
        found.push((upper.iter().sum(), lower.iter().sum()));
        for (lower, upper) in lower.iter_mut().zip(upper) {
            *lower += *upper;
        }
        numbers.truncate(half);
    }
    found.reverse();
    found
}
