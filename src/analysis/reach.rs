//! What has been found out about a handbook.

use std::collections::BTreeSet;

use super::branch::Branch;
use super::explored::Explored;
use super::graph::{Part, PartId, children};
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

    /// The conditions of a tree, by step and place in its list, that are not decided by the cells
    /// of single answers: those that compare several answers, or look at a whole hold. That they
    /// come out otherwise than they may is not proved.
    #[must_use]
    pub fn undecided(&self, tree: TreeId) -> Vec<(StepId, usize)> {
        let steps = self.explored.rules[tree.index()].iter().enumerate();
        let each = steps.flat_map(|(step, rules)| {
            rules.iter().enumerate().map(move |(place, part)| (StepId::at(step), place, *part))
        });
        each.filter(|(_, _, part)| self.is_undecided(*part))
            .map(|(s, place, _)| (s, place))
            .collect()
    }

    fn is_undecided(&self, condition: PartId) -> bool {
        let conditions = &self.explored.conditions;
        let (mut open, mut seen) = (vec![condition], BTreeSet::new());
        while let Some(part) = open.pop() {
            if !seen.insert(part) {
                continue;
            }
            let node = conditions.graph.node(part);
            match &node.part {
                Part::Not(_) | Part::And(_) | Part::Or(_) | Part::Finding { .. } => {
                    open.extend(children(&node.part));
                }
                _ if node.slots.is_empty() => {}
                _ => match conditions.table(part, false) {
                    Some((_, table)) if !table.is_undecided() => {}
                    _ => return true,
                },
            }
        }
        false
    }
}
