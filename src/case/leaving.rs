//! How the work is left safely, for whoever stops in the middle of it.

use super::case::Case;
use super::now::Now;
use crate::handbook::{StepKind, TreeId};

impl Case<'_> {
    /// The tree that says how to leave the work safely; none where the handbook has none, or the
    /// case is in it already or has been.
    #[must_use]
    pub fn leave_by(&self) -> Option<TreeId> {
        let tree = self.handbook().leave_by()?;
        let is_on_the_way = self.path().iter().any(|passed| passed.place.tree == tree);
        (self.tree() != tree && !is_on_the_way).then_some(tree)
    }

    /// The tree that a stop says may be begun meanwhile, as a case of its own; none anywhere else.
    #[must_use]
    pub fn meanwhile(&self) -> Option<TreeId> {
        let Now::Stopped { place, .. } = self.now() else { return None };
        match self.handbook().tree(place.tree).step(place.step).kind {
            StepKind::Stop { meanwhile, .. } => meanwhile,
            _ => None,
        }
    }
}
