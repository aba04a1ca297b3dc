//! What decides which way a case goes.

use super::case::Case;
use crate::handbook::{Next, QuestionId, Step, StepKind, Target};

impl Case<'_> {
    /// Whether the answer to a question has led on from one tree to another on the way so far, so that
    /// another answer leads another way.
    #[must_use]
    pub fn leads_the_way(&self, id: QuestionId) -> bool {
        let mut steps = self.path().iter().map(|passed| {
            let place = passed.place;
            self.handbook().tree(place.tree).step(place.step)
        });
        self.is_list(id) && steps.any(|step| leads_to_trees(step, id))
    }

    /// Whether the answer to a question leads on from one tree to another wherever it is asked.
    #[must_use]
    pub fn decides_ways(&self, id: QuestionId) -> bool {
        let mut steps = self.handbook().trees().iter().flat_map(|tree| tree.steps.iter());
        self.is_list(id) && steps.any(|step| leads_to_trees(step, id))
    }

    fn is_list(&self, id: QuestionId) -> bool {
        !self.handbook().question(id).choices.is_empty()
    }
}

/// Whether a step asks a question and goes on to other trees by its answer alone.
fn leads_to_trees(step: &Step, id: QuestionId) -> bool {
    let asks = matches!(step.kind, StepKind::Ask { question, .. } if question == id);
    let by_answer = matches!(step.next, Next::ByAnswer { .. });
    asks && by_answer && step.next.targets().iter().any(|target| matches!(target, Target::Tree(_)))
}
