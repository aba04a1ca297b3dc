//! The tree that questions belong to: the one that asks most of them, and of several one that the case
//! has been in, or else that which has the least open besides. A plan for a job that is not this
//! one asks much else.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::worksheet::Worksheet;
use crate::handbook::{QuestionId, Tree, TreeId};

/// What each tree asks.
pub(super) struct Homes(Vec<Asked>);

/// What one tree asks.
struct Asked {
    tree: TreeId,
    questions: BTreeSet<QuestionId>,
    /// How many of them nobody has answered.
    open: usize,
}

impl Homes {
    pub(super) fn of(sheet: &Worksheet<'_>) -> Self {
        let trees = sheet.handbook().trees().iter().enumerate();
        let of_tree = |(place, tree): (usize, &Tree)| {
            let questions: BTreeSet<QuestionId> = tree.questions().collect();
            let open = questions.iter().filter(|id| sheet.is_unanswered(**id)).count();
            Asked { tree: TreeId::at(place), questions, open }
        };
        Self(trees.map(of_tree).collect())
    }

    /// The tree that questions belong to; none where no tree asks one of them. `been` are the trees
    /// that the case has been in.
    pub(super) fn of_questions(&self, questions: &[QuestionId], been: &[TreeId]) -> Option<TreeId> {
        let asking = self.0.iter().filter_map(|asked| {
            let of_them = questions.iter().filter(|id| asked.questions.contains(id)).count();
            let is_new = !been.contains(&asked.tree);
            (of_them > 0).then_some((Reverse(of_them), is_new, asked.open, asked.tree))
        });
        asking.min().map(|(.., tree)| tree)
    }
}
