//! Draws: how doubt is carried through a formula.
//!
//! A measured value is a column of [`DRAWS`] equally likely values. Row *i* of every column
//! belongs together, so two readings that share a gauge share its scale in each row. A stream of
//! uniform numbers is stratified (one number in each of [`DRAWS`] equal cells, a Latin hypercube)
//! and permuted by a hash of its name, so it depends on nothing but that name.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

/// How many draws stand for one uncertain value.
///
/// With independent permutations the sample correlation of two streams has a standard deviation
/// of `1/sqrt(DRAWS - 1)`, here .022; a correlation of .1 is 4.5 of those.
pub const DRAWS: usize = 2048;

/// A value that is the same in every draw, or one value for each draw.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Draws<T> {
    /// Known for certain.
    Same(T),
    /// One value a draw; [`DRAWS`] of them. In a formula, a number written with its doubt.
    Each(Arc<[T]>),
}

impl<T: Copy> Draws<T> {
    /// The value in one draw, `row < DRAWS`.
    #[must_use]
    pub fn at(&self, row: usize) -> T {
        match self {
            Self::Same(value) => *value,
            Self::Each(values) => values[row],
        }
    }

    /// Applies a function to every draw.
    pub fn map<U: Copy>(&self, f: impl Fn(T) -> U) -> Draws<U> {
        match self {
            Self::Same(value) => Draws::Same(f(*value)),
            Self::Each(values) => Draws::Each(values.iter().map(|&value| f(value)).collect()),
        }
    }

    /// Joins two columns row by row.
    pub fn zip<U: Copy, V: Copy>(&self, other: &Draws<U>, f: impl Fn(T, U) -> V) -> Draws<V> {
        // A loop for each pair of shapes, so that none asks in every row which shape it has.
        match (self, other) {
            (Self::Same(a), Draws::Same(b)) => Draws::Same(f(*a, *b)),
            (Self::Same(a), Draws::Each(right)) => {
                Draws::Each(right.iter().map(|b| f(*a, *b)).collect())
            }
            (Self::Each(left), Draws::Same(b)) => {
                Draws::Each(left.iter().map(|a| f(*a, *b)).collect())
            }
            (Self::Each(left), Draws::Each(right)) => {
                Draws::Each(left.iter().zip(&**right).map(|(a, b)| f(*a, *b)).collect())
            }
        }
    }

    /// Every value: one if certain, else [`DRAWS`].
    #[must_use]
    pub fn values(&self) -> &[T] {
        match self {
            Self::Same(value) => std::slice::from_ref(value),
            Self::Each(values) => values,
        }
    }
}

/// The stream of uniform numbers in (0, 1) with this name: one in each of [`DRAWS`] equal cells,
/// at a hashed place within the cell, in a hashed order.
#[must_use]
pub fn stream(name: &str) -> Arc<[f64]> {
    let mut random = SplitMix::seeded(name);
    let mut column: Vec<f64> =
        (0..DRAWS).map(|cell| (cell as f64 + random.unit()) / DRAWS as f64).collect();
    for last in (1..DRAWS).rev() {
        column.swap(last, random.below(last + 1));
    }
    column.into()
}

/// Steele, Lea and Flood's SplitMix64 (OOPSLA 2014): small, and the same on every machine.
struct SplitMix(u64);

impl SplitMix {
    /// Seeded by the first eight bytes of the name's BLAKE3 hash.
    fn seeded(name: &str) -> Self {
        let hash = blake3::hash(name.as_bytes());
        let mut seed = [0; 8];
        seed.copy_from_slice(&hash.as_bytes()[..8]);
        Self(u64::from_le_bytes(seed))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Uniform in (0, 1), never at an end.
    fn unit(&mut self) -> f64 {
        ((self.next() >> 12) as f64 + 0.5) / (1u64 << 52) as f64
    }

    /// Uniform among `0..limit`, with a bias below `limit / 2^64`.
    fn below(&mut self, limit: usize) -> usize {
        ((u128::from(self.next()) * limit as u128) >> 64) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stream_has_one_number_in_each_cell() {
        let column = stream("gauge.scale");
        let mut cells: Vec<usize> = column.iter().map(|u| (u * DRAWS as f64) as usize).collect();
        cells.sort_unstable();
        assert_eq!(cells, (0..DRAWS).collect::<Vec<_>>());
    }

    #[test]
    fn a_stream_depends_on_its_name_alone() {
        assert_eq!(stream("a"), stream("a"));
        assert_ne!(stream("a"), stream("b"));
    }

    #[test]
    fn two_hundred_streams_are_uncorrelated() {
        let columns: Vec<Arc<[f64]>> = (0..200).map(|i| stream(&format!("question_{i}"))).collect();
        for (i, a) in columns.iter().enumerate() {
            for b in &columns[..i] {
                let r = correlation(a, b);
                assert!(r.abs() < 0.1, "correlation {r}");
            }
        }
    }

    fn correlation(a: &[f64], b: &[f64]) -> f64 {
        let covariance: f64 = a.iter().zip(b).map(|(x, y)| (x - 0.5) * (y - 0.5)).sum();
        covariance / DRAWS as f64 * 12.0
    }
}
