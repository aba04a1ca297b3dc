//! What has been found out about a handbook.

use super::branch::Branch;
use super::explored::Explored;
use super::moment::Chances;
use crate::handbook::{Handbook, StepId, TreeId};

/// Which steps and branches of a handbook's trees answers can lead to.
pub struct Analysis<'h> {
    pub(super) explored: Explored<'h>,
    pub(super) chances: Chances,
}

impl<'h> Analysis<'h> {
    /// Sweeps every tree of a handbook.
    #[must_use]
    pub fn of(handbook: &'h Handbook) -> Self {
        Self { explored: Explored::of(handbook), chances: Chances::default() }
    }

    /// The handbook that was looked at.
    #[must_use]
    pub fn handbook(&self) -> &'h Handbook {
        self.explored.handbook
    }

    /// Whether no answers lead to a step when its tree is begun: a proof. Otherwise some may.
    #[must_use]
    pub fn is_out_of_reach(&self, tree: TreeId, step: StepId) -> bool {
        let steps = &self.explored.swept[tree.index()].by_step;
        steps.get(step.index()).is_none_or(Vec::is_empty)
    }

    /// Whether no answers take a branch when its tree is begun: a proof. Otherwise some may.
    #[must_use]
    pub fn is_never_taken(&self, tree: TreeId, step: StepId, branch: Branch) -> bool {
        !self.explored.swept[tree.index()].taken.contains_key(&(step.index(), branch))
    }

    /// Whether a tree had more ways through it than are followed one by one, so that some step or
    /// branch out of reach may not have been found out.
    #[must_use]
    pub fn is_coarse(&self, tree: TreeId) -> bool {
        self.explored.swept[tree.index()].is_coarse
    }
}
