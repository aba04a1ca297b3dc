//! The weight of every state while evidence is multiplied in.

use super::block::{Block, LANES, LOW, add, multiply, sum};
use super::factor::Factor;

/// Below this total, some states' weights may have lost digits to the bottom of the number
/// range, so the product is taken again with care.
const TINY: f64 = 1e-200;

/// Unnormalised weights, by blocks of states.
#[derive(Clone, Debug)]
pub(super) struct Weights {
    blocks: Vec<Block>,
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
pub(super) struct Sums {
    low: Block,
    high: Vec<f64>,
}

impl Weights {
    pub(super) fn new(blocks: Vec<Block>) -> Self {
        Self { blocks, log_scale: 0.0 }
    }

    /// The natural logarithm of what the weights must be multiplied by.
    pub(super) fn log_scale(&self) -> f64 {
        self.log_scale
    }

    /// Multiplies factors in.
    pub(super) fn multiply(&mut self, factors: &[Factor<'_>], care: Care) {
        match care {
            Care::Quick => self.multiply_quickly(factors),
            Care::Careful => {
                for factor in factors {
                    self.multiply_quickly(std::slice::from_ref(factor));
                    self.lift();
                }
            }
        }
    }

    /// Takes four tables at a time, so that the weights are loaded and stored less often.
    fn multiply_quickly(&mut self, factors: &[Factor<'_>]) {
        let (fours, rest) = factors.as_chunks::<4>();
        for [a, b, c, d] in fours {
            for (block, weights) in self.blocks.iter_mut().enumerate() {
                let (a, b, c, d) = (a.row(block), b.row(block), c.row(block), d.row(block));
                for lane in 0..LANES {
                    weights[lane] *= a[lane] * b[lane] * (c[lane] * d[lane]);
                }
            }
        }
        for factor in rest {
            for (block, weights) in self.blocks.iter_mut().enumerate() {
                multiply(weights, factor.row(block));
            }
        }
    }

    /// Makes the largest weight 1, unless all are 0.
    fn lift(&mut self) {
        let largest = self.blocks.iter().flatten().fold(0.0_f64, |most, w| most.max(*w));
        if largest > 0.0 {
            for weight in self.blocks.iter_mut().flatten() {
                *weight /= largest;
            }
            self.log_scale += libm::log(largest);
        }
    }

    /// Adds the weights up.
    pub(super) fn sums(&self) -> Sums {
        let mut low = [0.0; LANES];
        let mut high = Vec::with_capacity(self.blocks.len());
        for block in &self.blocks {
            add(&mut low, block);
            high.push(sum(block));
        }
        Sums { low, high }
    }

    /// The probability of every state, given the weights' total.
    pub(super) fn normalised(mut self, total: f64) -> Vec<f64> {
        for block in &mut self.blocks {
            for weight in block {
                *weight /= total;
            }
        }
        self.blocks.into_flattened()
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

    /// The weights of the states with the cause, and of those without it.
    pub(super) fn split(&self, cause: usize) -> (f64, f64) {
        let (numbers, bit) =
            if cause < LOW { (&self.low[..], cause) } else { (&self.high[..], cause - LOW) };
        let (mut with, mut without) = (0.0, 0.0);
        for (place, number) in numbers.iter().enumerate() {
            if place & (1 << bit) == 0 {
                without += number;
            } else {
                with += number;
            }
        }
        (with, without)
    }

    /// The natural logarithm of the odds of each cause; infinite where it is certain.
    pub(super) fn log_odds(&self, causes: usize) -> Vec<f64> {
        (0..causes)
            .map(|cause| {
                let (with, without) = self.split(cause);
                libm::log(with) - libm::log(without)
            })
            .collect()
    }
}
