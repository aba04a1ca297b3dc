//! Work that waits while readings contradict each other: nothing is drained or taken apart for a
//! reading that can't be.

use super::{Advance, Walker};
use crate::case::now::{Now, Passage, Passed, Place};
use crate::evidence::FindingState;
use crate::handbook::{ActionId, FindingId};
use crate::text::Line;

impl Walker<'_> {
    /// The place in the order from which on the action of a step is held back, if it is. What holds
    /// it may be told while the step waits, but not once it was done.
    pub(super) fn held_back(&self, action: ActionId, place: Place) -> Option<usize> {
        let holds = |id: &FindingId| self.handbook.finding(*id).holds_back.contains(&action);
        let findings: Vec<FindingId> = self.handbook.finding_ids().filter(holds).collect();
        if findings.is_empty() {
            return None;
        }
        let deed = self.deed_ahead(place);
        let is_waiting =
            |order: &usize| *order > self.time && deed.is_none_or(|deed| *order < deed);
        let told = self.record.given.iter().map(|given| given.order).filter(is_waiting);
        std::iter::once(self.time).chain(told).find(|order| {
            let sheet = self.sheet_at(*order);
            let is_true =
                |id: &FindingId| matches!(sheet.finding(*id).state, FindingState::True(_));
            findings.iter().any(|id| sheet.judges_here(*id) && is_true(id))
        })
    }

    /// The tree, or the round of it, is over, as where the action is passed over: behind it would
    /// only be read what it did. It is offered, to be taken up again.
    pub(super) fn leave_for_now(
        &mut self,
        since: usize,
        action: ActionId,
        place: Place,
    ) -> Advance {
        self.time = self.time.max(since);
        self.path.push(Passed { place, passage: Passage::Through });
        let not_done = self.handbook.action(action).not_done_yet();
        let done = Line::plain(format!(
            "Not done yet: {not_done}. Readings contradict each other, so it waits until they have \
             been read again."
        ));
        if self.tree().rounds.is_some() {
            self.end_round(|_| done, None);
            return Advance::Moved;
        }
        let then = vec![place.tree];
        self.leave_tree(|_| Now::Ended { done, then, closes: None })
    }
}
