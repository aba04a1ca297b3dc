//! Work that is passed over: what was found before it stands, and nothing that it was to change is
//! asked again.

use super::{Advance, Walker};
use crate::case::event::Event;
use crate::case::now::{Now, Passage, Passed, Place};
use crate::handbook::ActionId;
use crate::text::Line;

impl Walker<'_> {
    /// Whether a deed is one that was passed over.
    pub(super) fn is_passed_over(&self, order: usize) -> bool {
        matches!(self.standing.events.get(order), Some(Some(Event::Skipped { .. })))
    }

    /// The tree, or the round of it, is over where an action is passed over: behind it would only
    /// be read what the action did. The tree itself is offered, to take it up again.
    pub(super) fn leave_undone(&mut self, action: ActionId, place: Place, order: usize) -> Advance {
        self.time = self.time.max(order);
        self.path.push(Passed { place, passage: Passage::Event(order) });
        let not_done = self.handbook.action(action).not_done_yet();
        let done =
            Line::plain(format!("Not done yet: {not_done}. What was found before it stands."));
        if self.tree().rounds.is_some() {
            self.end_round(|_| done, Some(order));
            return Advance::Moved;
        }
        let then = vec![place.tree];
        self.leave_tree(|_| Now::Ended { done, then, closes: None })
    }
}
