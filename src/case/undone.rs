//! Work that was proposed and passed over, and has not been done since.

use super::case::Case;
use super::event::Event;
use super::now::{Passage, Passed, Place};
use crate::handbook::{ActionId, StepKind};

impl Case<'_> {
    /// The actions that were passed over when the way came to them last, in the order of the
    /// handbook.
    #[must_use]
    pub fn left_undone(&self) -> Vec<ActionId> {
        self.handbook().action_ids().filter(|action| self.is_left_undone(*action)).collect()
    }

    fn is_left_undone(&self, wanted: ActionId) -> bool {
        let is_it = |passed: &&Passed| {
            let Place { tree, step } = passed.place;
            let kind = &self.handbook().tree(tree).step(step).kind;
            matches!(kind, StepKind::Act { action, .. } if *action == wanted)
        };
        let latest = self.path().iter().rev().find(is_it).map(|passed| passed.passage);
        let Some(Passage::Event(order)) = latest else { return false };
        matches!(self.events().get(order), Some(Event::Skipped { .. }))
    }
}
