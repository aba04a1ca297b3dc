//! Linear equations of a fixed pattern: most unknowns of a rig meet only one or two others.
//!
//! The pattern is looked at once. The order of elimination is the greedy one of Markowitz: next
//! comes the unknown whose row and column spoil the fewest empty places. Pivots stay on the
//! diagonal, which a small step of time makes dominant.

/// Which places of a square matrix hold numbers, and in which order its unknowns are eliminated.
#[derive(Clone, Debug)]
pub(super) struct Pattern {
    unknowns: usize,
    /// How many numbers are stored: entries and what elimination fills in.
    slots: usize,
    /// The pivots in the order of elimination.
    pivots: Vec<Pivot>,
    /// The rows below each pivot, one pivot after the other.
    below: Vec<Entry>,
    /// The columns right of each pivot, one pivot after the other.
    right: Vec<Entry>,
    /// For every pivot, row below it and column right of it, the slot that changes.
    changed: Vec<u32>,
    /// The slot of each place, row by row; `NO_SLOT` where nothing ever stands.
    places: Vec<u32>,
}

/// An unknown as it is eliminated.
#[derive(Clone, Copy, Debug)]
struct Pivot {
    unknown: u32,
    /// The slot on the diagonal.
    slot: u32,
    /// How many rows stand below it and how many columns right of it.
    below: u32,
    right: u32,
}

/// A number below or right of a pivot: its row or column, and its slot.
#[derive(Clone, Copy, Debug)]
struct Entry {
    unknown: u32,
    slot: u32,
}

/// Marks a place of the matrix where nothing ever stands.
const NO_SLOT: u32 = u32::MAX;

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
        let places: Vec<u32> = is_filled
            .iter()
            .map(|is_filled| {
                slots += u32::from(*is_filled);
                if *is_filled { slots - 1 } else { NO_SLOT }
            })
            .collect();
        let mut pattern = Self {
            unknowns,
            slots: slots as usize,
            pivots: Vec::with_capacity(unknowns),
            below: Vec::new(),
            right: Vec::new(),
            changed: Vec::new(),
            places,
        };
        steps.iter().for_each(|step| pattern.add(step));
        pattern
    }

    /// Adds a pivot with what stands below it and right of it.
    fn add(&mut self, step: &Step) {
        let places = &self.places;
        let at = |row: usize, column: usize| places[row * self.unknowns + column];
        let entry = |unknown: usize, slot| Entry { unknown: unknown as u32, slot };
        self.pivots.push(Pivot {
            unknown: step.pivot as u32,
            slot: at(step.pivot, step.pivot),
            below: step.rows.len() as u32,
            right: step.columns.len() as u32,
        });
        self.below.extend(step.rows.iter().map(|row| entry(*row, at(*row, step.pivot))));
        let columns = step.columns.iter();
        self.right.extend(columns.map(|column| entry(*column, at(step.pivot, *column))));
        for row in &step.rows {
            self.changed.extend(step.columns.iter().map(|column| at(*row, *column)));
        }
    }

    /// How many unknowns there are.
    pub(super) fn unknowns(&self) -> usize {
        self.unknowns
    }

    /// How many numbers are stored.
    pub(super) fn slots(&self) -> usize {
        self.slots
    }

    /// Where the number at a row and a column is stored. Only for places that were named to
    /// [`Pattern::new`] or lie on the diagonal.
    pub(super) fn slot(&self, row: usize, column: usize) -> usize {
        self.places[row * self.unknowns + column] as usize
    }

    /// Turns the numbers of a matrix into its factors, in place.
    pub(super) fn factor(&self, numbers: &mut [f64]) {
        let (mut below, mut right) = (self.below.as_slice(), self.right.as_slice());
        let mut changed = self.changed.iter();
        for pivot in &self.pivots {
            let inverse = 1.0 / numbers[pivot.slot as usize];
            numbers[pivot.slot as usize] = inverse;
            let rows = take(&mut below, pivot.below);
            let columns = take(&mut right, pivot.right);
            for row in rows {
                let factor = numbers[row.slot as usize] * inverse;
                numbers[row.slot as usize] = factor;
                for (column, changed) in columns.iter().zip(&mut changed) {
                    numbers[*changed as usize] -= factor * numbers[column.slot as usize];
                }
            }
        }
    }

    /// Solves the equations of a factored matrix for a right side, in place.
    pub(super) fn solve(&self, factors: &[f64], side: &mut [f64]) {
        let mut below = self.below.as_slice();
        for pivot in &self.pivots {
            let value = side[pivot.unknown as usize];
            for row in take(&mut below, pivot.below) {
                side[row.unknown as usize] -= factors[row.slot as usize] * value;
            }
        }
        let mut right = self.right.as_slice();
        for pivot in self.pivots.iter().rev() {
            let (before, columns) = right.split_at(right.len() - pivot.right as usize);
            right = before;
            let mut rest = side[pivot.unknown as usize];
            for column in columns {
                rest -= factors[column.slot as usize] * side[column.unknown as usize];
            }
            side[pivot.unknown as usize] = rest * factors[pivot.slot as usize];
        }
    }
}

/// Takes so many entries from the front.
fn take<'a>(entries: &mut &'a [Entry], count: u32) -> &'a [Entry] {
    let (taken, left) = entries.split_at(count as usize);
    *entries = left;
    taken
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
