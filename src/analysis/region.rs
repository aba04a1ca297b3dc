//! A region: what the slots may hold at one place of a tree.

use super::cells::Cells;
use super::slot::SlotId;

/// What one slot may hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Held {
    pub slot: SlotId,
    /// Where the one draw may lie that met every decision.
    pub cells: Cells,
    /// Where all draws may lie but those that missed a decision; no less than `cells`.
    pub draws: Cells,
    /// How many decisions in doubt have narrowed it; see [`Region::decisions`].
    pub decided: u8,
}

/// What the slots may hold; a slot that is not named may hold anything.
///
/// A reading is a column of draws, and a condition counts as met where nine draws of ten meet it.
/// A region speaks of *one* draw that met every decision so far. There is one as long as fewer
/// than ten decisions in doubt are kept, since each leaves out at most one draw of ten.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Region {
    held: Vec<Held>,
    /// Whether an action may have been done on the way.
    pub has_acted: bool,
    /// Which bounded steps of the present circle may have been entered, a bit each.
    pub may_have_entered: u64,
    /// Which of them have been entered for certain.
    pub has_entered: u64,
}

impl Region {
    /// What a slot may hold, if that is anything less than everything.
    pub fn get(&self, slot: SlotId) -> Option<Held> {
        let place = self.held.binary_search_by_key(&slot, |held| held.slot).ok()?;
        Some(self.held[place])
    }

    /// The slots that are held to something.
    pub fn held(&self) -> &[Held] {
        &self.held
    }

    /// Fills a slot anew: it holds one of these cells.
    pub fn fill(&mut self, slot: SlotId, cells: Cells) {
        self.hold(Held { slot, cells, draws: cells, decided: 0 });
    }

    /// Holds a slot to less than before.
    pub fn hold(&mut self, held: Held) {
        let slot = held.slot;
        match self.held.binary_search_by_key(&slot, |held| held.slot) {
            Ok(place) => self.held[place] = held,
            Err(place) => self.held.insert(place, held),
        }
    }

    /// Lets go of a slot: it may hold anything.
    pub fn forget(&mut self, slot: SlotId) {
        if let Ok(place) = self.held.binary_search_by_key(&slot, |held| held.slot) {
            self.held.remove(place);
        }
    }

    /// Keeps only some slots.
    pub fn keep(&mut self, is_wanted: impl Fn(SlotId) -> bool) {
        self.held.retain(|held| is_wanted(held.slot));
    }

    /// How many decisions in doubt it rests on.
    pub fn decisions(&self) -> u32 {
        self.held.iter().map(|held| u32::from(held.decided)).sum()
    }

    /// Whether everything in this region is in another one.
    pub fn lies_within(&self, other: &Self) -> bool {
        let is_narrower = |wide: &Held| {
            self.get(wide.slot)
                .is_some_and(|own| wide.cells.holds(own.cells) && own.decided <= wide.decided)
        };
        (other.has_acted || !self.has_acted)
            && self.may_have_entered & !other.may_have_entered == 0
            && other.has_entered & !self.has_entered == 0
            && other.held.iter().all(is_narrower)
    }

    /// The smallest region around two.
    pub fn joined(&self, other: &Self) -> Self {
        let both = self.held.iter().filter_map(|own| {
            let with = other.get(own.slot)?;
            let cells = own.cells.with(with.cells);
            let draws = own.draws.with(with.draws);
            let decided = own.decided.max(with.decided);
            Some(Held { slot: own.slot, cells, draws, decided })
        });
        Self {
            held: both.collect(),
            has_acted: self.has_acted || other.has_acted,
            may_have_entered: self.may_have_entered | other.may_have_entered,
            has_entered: self.has_entered & other.has_entered,
        }
    }

    /// Whether two differ in at most one slot, so that what is joined holds nothing else.
    pub fn joins_exactly(&self, other: &Self) -> bool {
        let is_same = self.held.len() == other.held.len()
            && self.has_acted == other.has_acted
            && self.may_have_entered == other.may_have_entered
            && self.has_entered == other.has_entered;
        let mut pairs = self.held.iter().zip(&other.held);
        is_same
            && pairs.clone().all(|(a, b)| a.slot == b.slot)
            && pairs.by_ref().filter(|(a, b)| a != b).count() <= 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn region(held: &[(u32, usize)]) -> Region {
        let mut region = Region::default();
        for (slot, cell) in held {
            region.fill(SlotId(*slot), Cells::one(*cell));
        }
        region
    }

    #[test]
    fn a_region_that_says_less_holds_one_that_says_more() {
        let (wide, narrow) = (region(&[(3, 1)]), region(&[(3, 1), (5, 0)]));
        assert!(narrow.lies_within(&wide) && !wide.lies_within(&narrow));
        assert!(narrow.joined(&wide) == wide);
    }

    #[test]
    fn only_one_slot_may_differ_in_an_exact_join() {
        let (a, b, c) =
            (region(&[(1, 0), (2, 0)]), region(&[(1, 1), (2, 0)]), region(&[(1, 1), (2, 1)]));
        assert!(a.joins_exactly(&b) && !a.joins_exactly(&c));
        let joined = a.joined(&b);
        assert_eq!(joined.get(SlotId(1)).map(|held| held.cells.count()), Some(2));
    }
}
