//! Which causes a table depends on, and where a state's numbers stand in it.

use super::block::{Block, LANES, LOW};
use super::factor::Product;
use std::sync::OnceLock;

/// The causes beyond the lowest [`LOW`] that a table depends on. The table holds one row, a
/// block, for each set of them; the lowest causes are told apart within the row. A finding that
/// few causes touch thus needs a small table however many causes the network has.
#[derive(Clone, Debug)]
pub(super) struct Scope {
    bits: usize,
    high: Vec<usize>,
    /// Made when first asked for, as the tables are.
    row_of: OnceLock<Vec<u32>>,
}

impl Scope {
    /// The scope of a table that depends on the given causes, in a network whose states have
    /// `bits` bits ([`LOW`] or more).
    pub(super) fn new(bits: usize, causes: impl Iterator<Item = usize>) -> Self {
        let mut high: Vec<usize> = causes.filter(|cause| (LOW..bits).contains(cause)).collect();
        high.sort_unstable();
        high.dedup();
        Self { bits, high, row_of: OnceLock::new() }
    }

    /// How many rows the table has.
    pub(super) fn rows(&self) -> usize {
        1 << self.high.len()
    }

    /// For each block of states, which row of the table it uses.
    pub(super) fn row_of(&self) -> &[u32] {
        self.row_of.get_or_init(|| self.rows_of_blocks())
    }

    /// The same, as its own.
    pub(super) fn into_row_of(mut self) -> Vec<u32> {
        self.row_of.take().unwrap_or_else(|| self.rows_of_blocks())
    }

    fn rows_of_blocks(&self) -> Vec<u32> {
        let mut row_of = Vec::with_capacity(1 << (self.bits - LOW));
        row_of.push(0_u32);
        for cause in LOW..self.bits {
            let step = self.high.binary_search(&cause).map_or(0, |place| 1 << place);
            for row in 0..row_of.len() {
                row_of.push(row_of[row] + step);
            }
        }
        row_of
    }

    /// The causes that tell the rows apart, as bits counted from the first one above the lowest.
    pub(super) fn mask(&self) -> u32 {
        self.high.iter().fold(0, |mask, cause| mask | 1 << (cause - LOW))
    }

    /// The causes that tell the rows apart, in the order of the rows' bits.
    pub(super) fn high(&self) -> &[usize] {
        &self.high
    }

    /// For each row, the first block of states that uses it.
    pub(super) fn first_block(&self) -> Vec<usize> {
        let mut first = vec![0];
        for cause in &self.high {
            for row in 0..first.len() {
                first.push(first[row] | 1 << (cause - LOW));
            }
        }
        first
    }

    /// Whether the cause is there in the state of this row and lane. A cause out of the scope
    /// never is.
    pub(super) fn is_there(&self, cause: usize, row: usize, lane: usize) -> bool {
        if cause < LOW {
            return lane & (1 << cause) != 0;
        }
        self.high.binary_search(&cause).is_ok_and(|place| row & (1 << place) != 0)
    }

    /// The table of a product; the ratio of a cause that the table does not depend on must be 1.
    pub(super) fn product(&self, product: &Product) -> Vec<Block> {
        let mut first = [product.start; LANES];
        for bit in 0..LOW {
            let (ratio, step) = (product.ratio(bit), 1 << bit);
            for lane in (0..LANES).filter(|lane| lane & step != 0) {
                first[lane] *= ratio;
            }
        }
        let mut rows = Vec::with_capacity(self.rows());
        rows.push(first);
        for cause in &self.high {
            let ratio = product.ratio(*cause);
            for row in 0..rows.len() {
                let longer: Block = rows[row].map(|number| number * ratio);
                rows.push(longer);
            }
        }
        rows
    }

    /// The states' numbers added up by row and lane of the table.
    pub(super) fn fold(&self, states: &[f64]) -> Vec<Block> {
        let mut rows = vec![[0.0; LANES]; self.rows()];
        for (chunk, row) in states.chunks(LANES).zip(self.row_of()) {
            for (sum, number) in rows[*row as usize].iter_mut().zip(chunk) {
                *sum += number;
            }
        }
        rows
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_is_as_small_as_its_causes_allow() {
        let scope = Scope::new(10, [7, 9, 2, 7].into_iter());
        assert_eq!(scope.rows(), 4);
        assert_eq!(scope.row_of().len(), 16);
        // Block 0b1010 has causes 7 and 9 (bits 1 and 3 above the block).
        assert_eq!(scope.row_of()[0b1010], 3);
        assert_eq!(scope.row_of()[0b0101], 0);
        assert_eq!(scope.first_block(), [0, 0b0010, 0b1000, 0b1010]);
        assert!(scope.is_there(9, 2, 0) && !scope.is_there(7, 2, 0));
        assert!(scope.is_there(2, 0, 0b100) && !scope.is_there(8, 3, 63));
    }

    #[test]
    fn a_product_holds_the_ratio_of_every_cause_there() {
        let product = Product { start: 0.8, ratios: vec![1.0, 0.5, 1.0, 1.0, 1.0, 1.0, 0.25] };
        let rows = Scope::new(7, [1, 6].into_iter()).product(&product);
        assert_eq!(rows[0][0b00], 0.8);
        assert_eq!(rows[0][0b10], 0.4);
        assert_eq!(rows[1][0b10], 0.1);
        assert_eq!(rows[1][0b01], 0.2);
    }
}
