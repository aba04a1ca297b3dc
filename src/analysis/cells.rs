//! Cells: what an answer may be, cut where some condition turns.

use crate::formula::Kind;
use crate::handbook::Question;

/// The most cells that one question is cut into (the bits of a set, less two marks).
const MOST_CELLS: usize = 126;
const MARKS: usize = 2;

/// A set of cells of one question, and of the two ways to know nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub(super) struct Cells(u128);

impl Cells {
    /// No value at all: it can't be.
    pub const NONE: Self = Self(0);
    /// Never answered.
    pub const ABSENT: Self = Self(1);
    /// Answered with something that says nothing: not sure of an observation, or skipped.
    pub const EMPTY: Self = Self(2);
    /// Not known, in either way.
    pub const UNKNOWN: Self = Self(3);

    /// One cell.
    pub fn one(cell: usize) -> Self {
        Self(1 << (cell + MARKS))
    }

    pub fn is_none(self) -> bool {
        self.0 == 0
    }

    pub fn has(self, some: Self) -> bool {
        self.0 & some.0 != 0
    }

    pub fn holds(self, all: Self) -> bool {
        self.0 & all.0 == all.0
    }

    pub fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    pub fn within(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    pub fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// The cells alone, without the marks.
    pub fn known(self) -> Self {
        self.without(Self::UNKNOWN)
    }

    /// How many cells and marks there are.
    pub fn count(self) -> u32 {
        self.0.count_ones()
    }

    /// Each mark and cell by itself, in order.
    pub fn each(self) -> impl Iterator<Item = Self> {
        let mut rest = self.0;
        std::iter::from_fn(move || {
            let lowest = rest & rest.wrapping_neg();
            rest ^= lowest;
            (lowest != 0).then_some(Self(lowest))
        })
    }

    /// The places of the cells, in order.
    pub fn places(self) -> impl Iterator<Item = usize> {
        self.known().each().map(|cell| cell.0.trailing_zeros() as usize - MARKS)
    }
}

/// One cell: every value from `low` to `high`, both included. That a threshold lies outside of
/// the next cell shows in the next floating-point number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cell {
    pub low: f64,
    pub high: f64,
}

/// What kind of values an axis has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum AxisKind {
    /// No, then yes.
    YesNo,
    /// The choices in their order.
    Choice,
    /// Values in SI units, from low to high.
    Quantity,
    /// One cell for all there is: words, days, readings.
    Whole,
}

/// Every value that one question may have, in cells.
#[derive(Clone, Debug)]
pub(super) struct Axis {
    pub kind: AxisKind,
    cells: Vec<Cell>,
}

impl Axis {
    /// The axis of a question, cut at these values.
    pub fn of(question: &Question, mut thresholds: Vec<f64>) -> Self {
        let (kind, cells) = match &question.kind {
            Kind::YesNo => (AxisKind::YesNo, places(2)),
            Kind::Choice(set) if set.ids().len() <= MOST_CELLS => {
                (AxisKind::Choice, places(set.ids().len()))
            }
            Kind::Quantity(_) => {
                let (low, high) = domain(question);
                thresholds.retain(|t| (low..=high).contains(t));
                thresholds.sort_by(f64::total_cmp);
                thresholds.dedup();
                thresholds.truncate((MOST_CELLS - 1) / 2);
                (AxisKind::Quantity, cut(low, high, &thresholds))
            }
            _ => (AxisKind::Whole, places(1)),
        };
        Self { kind, cells }
    }

    /// The axis of something computed, over every number there is, cut at these values; none where
    /// they are too many.
    pub fn over_all(mut cuts: Vec<f64>) -> Option<Self> {
        cuts.sort_by(f64::total_cmp);
        cuts.dedup();
        let is_fit = cuts.len() <= (MOST_CELLS - 1) / 2;
        is_fit.then(|| Self { kind: AxisKind::Quantity, cells: cut(f64::MIN, f64::MAX, &cuts) })
    }

    /// All cells.
    pub fn known(&self) -> Cells {
        let all = (0..self.cells.len()).map(Cells::one);
        all.fold(Cells::NONE, Cells::with)
    }

    /// Whatever an answer may come to.
    pub fn answers(&self) -> Cells {
        self.known().with(Cells::EMPTY)
    }

    /// Whatever may stand there when nothing is known about what was asked.
    pub fn anything(&self) -> Cells {
        self.answers().with(Cells::ABSENT)
    }

    /// The lowest and the highest value of the cells in a set.
    pub fn hull(&self, cells: Cells) -> Option<Cell> {
        let (first, last) = (cells.places().next()?, cells.places().last()?);
        Some(Cell { low: self.cells[first].low, high: self.cells[last].high })
    }
}

/// The lowest and the highest value of a quantity that is asked for; what "not sure" of it stands
/// for lies within as well.
fn domain(question: &Question) -> (f64, f64) {
    let (low, high) = question.range.unwrap_or((f64::MIN, f64::MAX));
    match question.not_sure {
        Some((lowest, highest)) => (low.min(lowest), high.max(highest)),
        None => (low, high),
    }
}

fn places(count: usize) -> Vec<Cell> {
    (0..count).map(|place| Cell { low: place as f64, high: place as f64 }).collect()
}

/// Open intervals and the points between them.
fn cut(low: f64, high: f64, thresholds: &[f64]) -> Vec<Cell> {
    let mut cells = Vec::new();
    let mut from = low;
    for &threshold in thresholds {
        if from <= threshold.next_down() {
            cells.push(Cell { low: from, high: threshold.next_down() });
        }
        cells.push(Cell { low: threshold, high: threshold });
        from = threshold.next_up();
    }
    if from <= high {
        cells.push(Cell { low: from, high });
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::{Cells, cut};

    #[test]
    fn points_and_what_lies_between_are_cells_of_their_own() {
        let cells = cut(0.0, 10.0, &[0.0, 5.0]);
        let ends: Vec<(f64, f64)> = cells.iter().map(|cell| (cell.low, cell.high)).collect();
        let (above, below) = (0.0_f64.next_up(), 5.0_f64.next_down());
        assert_eq!(ends, [(0.0, 0.0), (above, below), (5.0, 5.0), (5.0_f64.next_up(), 10.0)]);
    }

    #[test]
    fn a_set_lists_its_marks_first() {
        let set = Cells::one(3).with(Cells::ABSENT).with(Cells::one(0));
        assert_eq!(set.each().collect::<Vec<_>>(), [Cells::ABSENT, Cells::one(0), Cells::one(3)]);
        assert_eq!(set.places().collect::<Vec<_>>(), [0, 3]);
        assert_eq!(set.known().count(), 2);
    }
}
