//! Which states can be at all.
//!
//! A cause that is as it was left by a repair is not there unless it was there before: of the
//! states of a case with five repairs three quarters can't be. They are never worked on.

use super::block::{Block, LANES};
use std::sync::Arc;

/// The blocks of states that can weigh anything before any evidence, whatever the history.
#[derive(Clone, Debug)]
pub(super) struct Live {
    places: Arc<[u32]>,
    all: usize,
}

impl Live {
    /// Those of so many blocks that may be.
    pub(super) fn of(all: usize, may_be: impl Fn(usize) -> bool) -> Self {
        let places = (0..all).filter(|block| may_be(*block)).map(|block| block as u32).collect();
        Self { places, all }
    }

    /// How many blocks there are, live or not.
    pub(super) fn all(&self) -> usize {
        self.all
    }

    /// The places of the live blocks, ascending.
    pub(super) fn places(&self) -> &[u32] {
        &self.places
    }

    /// The numbers of all states from those of the live blocks.
    pub(super) fn spread(&self, blocks: Vec<Block>) -> Vec<f64> {
        if blocks.len() == self.all {
            return blocks.into_flattened();
        }
        let mut states = vec![0.0; self.all * LANES];
        for (place, block) in self.places.iter().zip(&blocks) {
            let first = *place as usize * LANES;
            states[first..first + LANES].copy_from_slice(block);
        }
        states
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_is_spread_as_nothing() {
        let live = Live::of(4, |block| block % 2 == 1);
        assert_eq!((live.places(), live.all()), (&[1, 3][..], 4));
        let states = live.spread(vec![[0.25; LANES], [0.5; LANES]]);
        let at = |block: usize| states[block * LANES + 5];
        assert_eq!([at(0), at(1), at(2), at(3)], [0.0, 0.25, 0.0, 0.5]);
        assert_eq!(states.len(), 4 * LANES);
    }
}
