//! Conditions over cells: what one may come to in a region, cell by cell where it can be.

use std::cell::{Cell as Mark, OnceCell};

use super::cells::{Axis, AxisKind, Cell, Cells};
use super::evaluate::{Evaluation, May};
use super::graph::{Graph, PartId};
use super::interval::Interval;
use super::region::Region;
use super::slot::SlotId;
use super::thresholds::thresholds;
use super::truths::Truths;
use crate::handbook::{Handbook, QuestionId};

/// Into how many pieces a cell is cut where a formula names its quantity more than once.
const PIECES: u32 = 32;

/// In which cells of its only slot a condition may come to what.
#[derive(Clone, Copy, Debug)]
pub(super) struct Table {
    yes: Cells,
    no: Cells,
    unknown: Cells,
}

impl Table {
    /// The cells in which it may come to any of these.
    pub fn cells(self, wanted: Truths) -> Cells {
        let side = |truth, cells| if wanted.has(truth) { cells } else { Cells::NONE };
        let known = side(Truths::YES, self.yes).with(side(Truths::NO, self.no));
        known.with(side(Truths::UNKNOWN, self.unknown))
    }

    /// Whether there is a cell in which it may hold and may fail.
    pub fn is_undecided(self) -> bool {
        !self.yes.within(self.no).known().is_none()
    }

    /// What it may come to in some cells.
    fn truths(self, cells: Cells) -> Truths {
        Truths::when(self.yes.has(cells), self.no.has(cells), self.unknown.has(cells))
    }
}

/// Every condition of a handbook, with the axes that they are cut on.
#[derive(Debug)]
pub(super) struct Conditions<'h> {
    pub graph: Graph<'h>,
    axes: Vec<Axis>,
    tables: Vec<OnceCell<Table>>,
    /// Whether some regions have been joined or left wide to stay within bounds.
    pub was_joined: Mark<bool>,
}

impl<'h> Conditions<'h> {
    /// Cuts the axes once all conditions are in the graph.
    pub fn new(handbook: &'h Handbook, graph: Graph<'h>) -> Self {
        let mut cuts = thresholds(handbook, &graph);
        let axis =
            |id: QuestionId| Axis::of(handbook.question(id), cuts.remove(&id).unwrap_or_default());
        let axes = handbook.question_ids().map(axis).collect();
        let tables = vec![OnceCell::new(); graph.len()];
        Self { graph, axes, tables, was_joined: Mark::new(false) }
    }

    /// The axis of a question.
    pub fn axis(&self, question: QuestionId) -> &Axis {
        &self.axes[question.index()]
    }

    /// The axis that a slot's values lie on.
    pub fn axis_of(&self, slot: SlotId) -> &Axis {
        self.axis(self.graph.slots.get(slot).question)
    }

    /// What a slot may hold in a region.
    pub fn cells(&self, region: &Region, slot: SlotId) -> Cells {
        region.get(slot).map_or_else(|| self.axis_of(slot).anything(), |held| held.cells)
    }

    /// What a condition may come to in a region.
    pub fn truths(&self, part: PartId, region: &Region) -> Truths {
        if let Some((slot, table)) = self.table(part, region.has_acted) {
            return table.truths(self.cells(region, slot));
        }
        let held = |slot| self.value(slot, self.cells(region, slot));
        Evaluation::new(&self.graph, &held, region.has_acted).truths(part)
    }

    /// The table of a condition that looks at one slot alone.
    pub fn table(&self, part: PartId, has_acted: bool) -> Option<(SlotId, Table)> {
        let node = self.graph.node(part);
        let &[slot] = node.slots.as_slice() else { return None };
        if node.may_lag && has_acted {
            return None;
        }
        Some((slot, *self.tables[part.index()].get_or_init(|| self.tabulated(part, slot))))
    }

    fn tabulated(&self, part: PartId, slot: SlotId) -> Table {
        let axis = self.axis_of(slot);
        let mut table = Table { yes: Cells::NONE, no: Cells::NONE, unknown: Cells::NONE };
        for cell in axis.anything().each() {
            let truths = self.in_cell(part, slot, cell);
            let add = |set: &mut Cells, truth| {
                if truths.has(truth) {
                    *set = set.with(cell);
                }
            };
            add(&mut table.yes, Truths::YES);
            add(&mut table.no, Truths::NO);
            add(&mut table.unknown, Truths::UNKNOWN);
        }
        if self.graph.node(part).is_doubtful && !table.unknown.known().is_none() {
            // Another draw of the same reading may be the one that has no value.
            table.unknown = table.unknown.with(axis.known());
        }
        table
    }

    /// What a condition may come to while its only slot is in one cell.
    fn in_cell(&self, part: PartId, slot: SlotId, cell: Cells) -> Truths {
        let at = |may: May| {
            let held = |_| may;
            Evaluation::new(&self.graph, &held, false).truths(part)
        };
        let whole = at(self.value(slot, cell));
        let is_undecided = whole.only_those_of(Truths::KNOWN) == Truths::KNOWN;
        match (is_undecided, self.axis_of(slot).kind, self.axis_of(slot).hull(cell)) {
            (true, AxisKind::Quantity, Some(cell)) => pieces(cell)
                .map(|piece| at(May::Number(Interval::between(piece.low, piece.high))))
                .fold(Truths::NONE, Truths::and_those_of),
            _ => whole,
        }
    }

    /// What a slot in some of its cells may come to.
    pub fn value(&self, slot: SlotId, cells: Cells) -> May {
        let axis = self.axis_of(slot);
        let may_be_unknown = cells.has(Cells::UNKNOWN);
        match axis.kind {
            AxisKind::YesNo => {
                let has = |place| cells.has(Cells::one(place));
                May::Truth(Truths::when(has(1), has(0), may_be_unknown))
            }
            AxisKind::Choice => {
                let places = cells.places().fold(0, |places, place| places | 1 << place);
                May::Choice { places, may_be_unknown }
            }
            AxisKind::Quantity => match axis.hull(cells) {
                Some(Cell { low, high }) => May::Number(Interval { low, high, may_be_unknown }),
                None => May::Number(Interval::UNKNOWN),
            },
            AxisKind::Whole => {
                May::Whole { may_be_known: !cells.known().is_none(), may_be_unknown }
            }
        }
    }
}

/// A cell in equal pieces that share their ends.
fn pieces(cell: Cell) -> impl Iterator<Item = Cell> {
    let at = move |step: u32| match step {
        0 => cell.low,
        PIECES => cell.high,
        _ => {
            let share = f64::from(step) / f64::from(PIECES);
            (cell.low * (1.0 - share) + cell.high * share).clamp(cell.low, cell.high)
        }
    };
    (0..PIECES).map(move |step| Cell { low: at(step), high: at(step + 1) })
}
