//! Runs of states that are worked on together.

/// How many causes lie within a block: the lowest bits of a state.
pub(super) const LOW: usize = 6;

/// How many states make a block.
pub(super) const LANES: usize = 1 << LOW;

/// The numbers of [`LANES`] states that differ in the lowest causes only. A network of fewer
/// causes has states with causes that don't exist; they weigh nothing.
pub(super) type Block = [f64; LANES];

/// The sum of a block, always in the same order: eight sums side by side, then halves.
pub(super) fn sum(block: &Block) -> f64 {
    let (eights, _) = block.as_chunks::<8>();
    let mut s = [0.0; 8];
    for eight in eights {
        for (sum, number) in s.iter_mut().zip(eight) {
            *sum += number;
        }
    }
    (s[0] + s[4]) + (s[2] + s[6]) + ((s[1] + s[5]) + (s[3] + s[7]))
}

/// Adds a block to another.
pub(super) fn add(to: &mut Block, block: &Block) {
    for (to, number) in to.iter_mut().zip(block) {
        *to += number;
    }
}

/// Multiplies a block by another.
pub(super) fn multiply(to: &mut Block, block: &Block) {
    for (to, number) in to.iter_mut().zip(block) {
        *to *= number;
    }
}

/// Adds the product of two blocks to a third.
pub(super) fn add_product(to: &mut Block, one: &Block, other: &Block) {
    for ((to, one), other) in to.iter_mut().zip(one).zip(other) {
        *to += one * other;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_lane_is_counted_once() {
        let mut block: Block = [0.0; LANES];
        for (lane, number) in block.iter_mut().enumerate() {
            *number = lane as f64;
        }
        assert_eq!(sum(&block), 2016.0);
        let mut twice = block;
        add(&mut twice, &block);
        assert_eq!(sum(&twice), 4032.0);
        let mut total = [1.0; LANES];
        add_product(&mut total, &twice, &[0.5; LANES]);
        assert_eq!(sum(&total), 2080.0);
    }
}
