//! Linear equations of a fixed pattern: most unknowns of a rig meet only one or two others.
//!
//! The pattern is looked at once. The order of elimination is the greedy one of Markowitz: next
//! comes the unknown whose row and column spoil the fewest empty places. Pivots stay on the
//! diagonal, which a small step of time makes dominant.

/// Which places of a square matrix hold numbers, and in which order its unknowns are eliminated.
#[derive(Clone, Debug)]
pub(super) struct Pattern {
    /// How many numbers are stored: entries and what elimination fills in.
    slots: usize,
    /// The unknowns in the order of elimination.
    order: Vec<usize>,
    /// Where the diagonal of each eliminated unknown is stored.
    diagonal: Vec<usize>,
    /// The rows below each pivot, as (row, slot).
    below: Vec<Vec<(usize, usize)>>,
    /// The columns right of each pivot, as (column, slot).
    right: Vec<Vec<(usize, usize)>>,
    /// For every pivot, row below it and column right of it, the slot that changes.
    changed: Vec<usize>,
    /// The slot of each place, row by row; `NO_SLOT` where nothing ever stands.
    places: Vec<usize>,
}

/// Marks a place of the matrix where nothing ever stands.
const NO_SLOT: usize = usize::MAX;

impl Pattern {
    /// The pattern of so many unknowns with numbers at (row, column) and on the diagonal.
    pub(super) fn new(unknowns: usize, entries: impl IntoIterator<Item = (usize, usize)>) -> Self {
        let mut is_filled = vec![false; unknowns * unknowns];
        for unknown in 0..unknowns {
            is_filled[unknown * unknowns + unknown] = true;
        }
        for (row, column) in entries {
            is_filled[row * unknowns + column] = true;
        }
        let steps = eliminate(unknowns, &mut is_filled);
        let mut slots = 0;
        let places: Vec<usize> = is_filled
            .iter()
            .map(|is_filled| {
                slots += usize::from(*is_filled);
                if *is_filled { slots - 1 } else { NO_SLOT }
            })
            .collect();
        let at = |row: usize, column: usize| places[row * unknowns + column];
        let mut pattern = Self {
            slots,
            order: steps.iter().map(|step| step.pivot).collect(),
            diagonal: steps.iter().map(|step| at(step.pivot, step.pivot)).collect(),
            below: Vec::with_capacity(unknowns),
            right: Vec::with_capacity(unknowns),
            changed: Vec::new(),
            places: Vec::new(),
        };
        for step in &steps {
            pattern.below.push(step.rows.iter().map(|row| (*row, at(*row, step.pivot))).collect());
            pattern.right.push(
                step.columns.iter().map(|column| (*column, at(step.pivot, *column))).collect(),
            );
            for row in &step.rows {
                pattern.changed.extend(step.columns.iter().map(|column| at(*row, *column)));
            }
        }
        pattern.places = places;
        pattern
    }

    /// How many unknowns there are.
    pub(super) fn unknowns(&self) -> usize {
        self.order.len()
    }

    /// How many numbers are stored.
    pub(super) fn slots(&self) -> usize {
        self.slots
    }

    /// Where the number at a row and a column is stored. Only for places that were named to
    /// [`Pattern::new`] or lie on the diagonal.
    pub(super) fn slot(&self, row: usize, column: usize) -> usize {
        self.places[row * self.unknowns() + column]
    }

    /// Turns the numbers of a matrix into its factors, in place.
    pub(super) fn factor(&self, numbers: &mut [f64]) {
        let mut changed = self.changed.iter();
        for (step, diagonal) in self.diagonal.iter().enumerate() {
            let inverse = 1.0 / numbers[*diagonal];
            for (_, below) in &self.below[step] {
                let factor = numbers[*below] * inverse;
                numbers[*below] = factor;
                for ((_, right), changed) in self.right[step].iter().zip(&mut changed) {
                    numbers[*changed] -= factor * numbers[*right];
                }
            }
            numbers[*diagonal] = inverse;
        }
    }

    /// Solves the equations of a factored matrix for a right side, in place.
    pub(super) fn solve(&self, factors: &[f64], side: &mut [f64]) {
        for (step, pivot) in self.order.iter().enumerate() {
            let value = side[*pivot];
            for (row, slot) in &self.below[step] {
                side[*row] -= factors[*slot] * value;
            }
        }
        for (step, pivot) in self.order.iter().enumerate().rev() {
            let rest = self.right[step]
                .iter()
                .fold(side[*pivot], |rest, (column, slot)| rest - factors[*slot] * side[*column]);
            side[*pivot] = rest * factors[self.diagonal[step]];
        }
    }
}

/// One unknown eliminated, with the rows and columns that still counted then.
struct Step {
    pivot: usize,
    rows: Vec<usize>,
    columns: Vec<usize>,
}

/// Eliminates all unknowns by Markowitz's rule and marks the places that fill.
fn eliminate(unknowns: usize, is_filled: &mut [bool]) -> Vec<Step> {
    let mut left: Vec<usize> = (0..unknowns).collect();
    let mut rows_of = vec![0_usize; unknowns];
    let mut columns_of = vec![0_usize; unknowns];
    for row in 0..unknowns {
        for column in 0..unknowns {
            if row != column && is_filled[row * unknowns + column] {
                columns_of[row] += 1;
                rows_of[column] += 1;
            }
        }
    }
    let mut steps = Vec::with_capacity(unknowns);
    while let Some((place, pivot)) = left
        .iter()
        .copied()
        .enumerate()
        .min_by_key(|(_, unknown)| (rows_of[*unknown] * columns_of[*unknown], *unknown))
    {
        left.remove(place);
        let keep = |at: &dyn Fn(usize) -> usize, is_filled: &[bool]| -> Vec<usize> {
            left.iter().copied().filter(|other| is_filled[at(*other)]).collect()
        };
        let rows = keep(&|other| other * unknowns + pivot, is_filled);
        let columns = keep(&|other| pivot * unknowns + other, is_filled);
        for row in &rows {
            columns_of[*row] -= 1;
            for column in &columns {
                let spot = &mut is_filled[row * unknowns + column];
                if !*spot {
                    *spot = true;
                    columns_of[*row] += 1;
                    rows_of[*column] += 1;
                }
            }
        }
        columns.iter().for_each(|column| rows_of[*column] -= 1);
        steps.push(Step { pivot, rows, columns });
    }
    steps
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A tree of unknowns with a row that depends on all and on which nothing depends.
    const ENTRIES: [(usize, usize); 13] = [
        (0, 1),
        (1, 0),
        (1, 2),
        (2, 1),
        (1, 3),
        (3, 1),
        (2, 4),
        (4, 2),
        (5, 0),
        (5, 1),
        (5, 2),
        (5, 3),
        (5, 4),
    ];

    #[test]
    fn a_solution_gives_its_right_side_again() {
        let pattern = Pattern::new(6, ENTRIES);
        let mut matrix = vec![0.0; pattern.slots()];
        let mut dense = [[0.0; 6]; 6];
        for (place, (row, column)) in ENTRIES.iter().enumerate() {
            dense[*row][*column] = -0.5 + 0.1 * place as f64;
        }
        for (unknown, row) in dense.iter_mut().enumerate() {
            row[unknown] = 3.0 + unknown as f64;
        }
        for (row, numbers) in dense.iter().enumerate() {
            for (column, number) in numbers.iter().enumerate().filter(|(_, n)| **n != 0.0) {
                matrix[pattern.slot(row, column)] = *number;
            }
        }
        let wanted = [1.0, -2.0, 3.0, 0.5, -0.25, 7.0];
        let mut side = dense.map(|row| row.iter().zip(wanted).map(|(a, x)| a * x).sum::<f64>());
        pattern.factor(&mut matrix);
        pattern.solve(&matrix, &mut side);
        for (found, wanted) in side.iter().zip(wanted) {
            assert!((found - wanted).abs() < 1e-12, "{side:?}");
        }
    }

    #[test]
    fn a_tree_fills_nothing_in() {
        assert_eq!(Pattern::new(6, ENTRIES).slots(), ENTRIES.len() + 6);
    }
}
