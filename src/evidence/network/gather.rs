//! Multiplies factors with each other before they meet the states.
//!
//! A table for few causes is short. Tables that have causes in common, or few together, are
//! multiplied into one that is still short; only what is left goes over every state.

use super::block::{Block, LANES, LOW};
use super::factor::Factor;
use super::live::Live;
use super::scope::Scope;

/// The longest tables to be joined, as parts of the number of live blocks; the shortest first. Each
/// step at least halves the number of tables that it joins, so joining them always pays.
const PARTS: [usize; 3] = [64, 16, 4];

/// Multiplies factors into states, given by their live blocks. No factor is above 1, so nothing
/// falls out of the number range on the way that would not do so in the end.
pub(super) fn multiply_all(states: &mut [Block], live: &Live, factors: &[Factor<'_>]) {
    let mut left: Vec<Factor<'_>> = factors.iter().map(Factor::view).collect();
    for most_rows in PARTS.map(|part| states.len() / part) {
        left = gather(left, live.all(), most_rows);
    }
    multiply_rows(states, |row| live.places()[row] as usize, &left);
}

/// Joins factors as long as their common table has at most so many rows.
fn gather<'f>(factors: Vec<Factor<'f>>, blocks: usize, most_rows: usize) -> Vec<Factor<'f>> {
    let is_short = |factor: &Factor<'f>| factor.rows.len() <= most_rows;
    if factors.iter().filter(|factor| is_short(factor)).count() < 2 {
        return factors;
    }
    let (short, mut left): (Vec<_>, Vec<_>) = factors.into_iter().partition(is_short);
    let mut groups: Vec<(u32, Vec<Factor<'f>>)> = Vec::new();
    for factor in short {
        let home = groups
            .iter_mut()
            .map(|group| (rows_of(group.0 | factor.mask), group))
            .filter(|(rows, _)| *rows <= most_rows)
            .min_by_key(|(rows, _)| *rows);
        match home {
            Some((_, (mask, members))) => {
                *mask |= factor.mask;
                members.push(factor);
            }
            None => groups.push((factor.mask, vec![factor])),
        }
    }
    left.extend(groups.into_iter().map(|(mask, members)| join(mask, members, blocks)));
    left
}

/// How long the table for these causes is.
fn rows_of(mask: u32) -> usize {
    1 << mask.count_ones()
}

/// The product of factors that depend on these causes above the lowest.
fn join(mask: u32, mut members: Vec<Factor<'_>>, blocks: usize) -> Factor<'_> {
    if members.len() == 1 {
        return members.swap_remove(0);
    }
    let bits = LOW + blocks.ilog2() as usize;
    let scope = Scope::new(bits, (LOW..bits).filter(|cause| mask & (1 << (cause - LOW)) != 0));
    let first_block = scope.first_block();
    let mut rows = vec![[1.0; LANES]; scope.rows()];
    multiply_rows(&mut rows, |row| first_block[row], &members);
    Factor::owned(rows, scope)
}

/// The rows of a factor, and which of them each block of states uses.
type Table<'t> = (&'t [Block], &'t [u32]);

/// Multiplies factors into rows, each of which stands for a block of states. Takes up to eight
/// tables at a time, so that the rows are loaded and stored less often.
fn multiply_rows(rows: &mut [Block], block_of: impl Fn(usize) -> usize, factors: &[Factor<'_>]) {
    // Looked up once here, since the loops below are the whole cost of an answer.
    let tables: Vec<Table<'_>> = factors.iter().map(Factor::table).collect();
    let (eights, rest) = tables.as_chunks::<8>();
    let (fours, rest) = rest.as_chunks::<4>();
    let (twos, ones) = rest.as_chunks::<2>();
    eights.iter().for_each(|tables| multiply_some(rows, &block_of, tables));
    fours.iter().for_each(|tables| multiply_some(rows, &block_of, tables));
    twos.iter().for_each(|tables| multiply_some(rows, &block_of, tables));
    ones.iter().for_each(|table| multiply_some(rows, &block_of, &[*table]));
}

/// Multiplies so many tables into rows in one pass.
fn multiply_some<const COUNT: usize>(
    rows: &mut [Block],
    block_of: impl Fn(usize) -> usize,
    tables: &[Table<'_>; COUNT],
) {
    for (row, numbers) in rows.iter_mut().enumerate() {
        let block = block_of(row);
        let others = tables.map(|(rows, row_of)| &rows[row_of[block] as usize]);
        for lane in 0..LANES {
            for other in &others {
                numbers[lane] *= other[lane];
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::factor::Product;
    use super::*;

    const BITS: usize = 12;

    /// A factor that depends on the given causes, no two of its numbers alike.
    fn factor(causes: &[usize]) -> Factor<'static> {
        let scope = Scope::new(BITS, causes.iter().copied());
        let mut ratios = vec![1.0; BITS];
        for cause in causes {
            ratios[*cause] = 1.0 - 0.03 * (*cause as f64 + causes.len() as f64);
        }
        Factor::owned(scope.product(&Product { start: 0.9, ratios }), scope)
    }

    #[test]
    fn joining_factors_changes_no_state() {
        let causes: [&[usize]; 11] = [
            &[],
            &[1, 6],
            &[6, 7],
            &[2],
            &[11],
            &[7, 8, 9],
            &[3, 10, 11],
            &[6, 11],
            &[6, 7, 8, 9, 10, 11],
            &[0, 8],
            &[6, 7, 8, 9, 10],
        ];
        let factors: Vec<Factor<'_>> = causes.iter().map(|causes| factor(causes)).collect();
        let mut joined = vec![[1.0; LANES]; 1 << (BITS - LOW)];
        let live = Live::of(joined.len(), |_| true);
        multiply_all(&mut joined, &live, &factors);
        for (block, joined) in joined.iter().enumerate() {
            for (lane, joined) in joined.iter().enumerate() {
                let plain: f64 = factors.iter().map(|factor| factor.row(block)[lane]).product();
                assert!((joined / plain - 1.0).abs() < 1e-13, "block {block}, lane {lane}");
            }
        }
    }

    #[test]
    fn only_short_tables_are_joined_and_stay_short() {
        let wide = factor(&[6, 7, 8, 9, 10]);
        let factors = vec![factor(&[6]), wide, factor(&[7]), factor(&[6, 7]), factor(&[11])];
        let left = gather(factors, 64, 4);
        let masks: Vec<u32> = left.iter().map(|factor| factor.mask).collect();
        assert_eq!(masks, [0b01_1111, 0b00_0011, 0b10_0000]);
        assert_eq!(left.iter().map(|factor| factor.rows.len()).collect::<Vec<_>>(), [32, 4, 2]);
    }
}
