//! What comes next on the way, and which readings go with one another.

use super::case::Case;
use super::now::Now;
use crate::handbook::{Next, QuestionId, StepKind, Target};

impl Case<'_> {
    /// The questions that may come next on this way, the nearest first, whether they have an answer or
    /// not; with those of the trees that are visited there.
    #[must_use]
    pub fn questions_coming(&self) -> Vec<QuestionId> {
        let (Now::Ask { place, .. } | Now::Do { place, .. } | Now::Act { place, .. }) = self.now()
        else {
            return Vec::new();
        };
        let tree = self.handbook().tree(place.tree);
        let mut steps = vec![place.step];
        let mut found: Vec<QuestionId> = Vec::new();
        let mut at = 0;
        while let Some(step) = steps.get(at).map(|step| tree.step(*step)) {
            let asked: Vec<QuestionId> = match step.kind {
                StepKind::Ask { question, .. } => vec![question],
                StepKind::Visit(visited) => self.handbook().tree(visited).questions().collect(),
                _ => Vec::new(),
            };
            for question in asked {
                if !found.contains(&question) {
                    found.push(question);
                }
            }
            for target in usual_first(&step.next) {
                match target {
                    Target::Step(next) if !steps.contains(&next) => steps.push(next),
                    _ => {}
                }
            }
            at += 1;
        }
        found
    }

    /// Whether another question of the same kind asks for what is read later, and so is outdated by
    /// this one.
    #[must_use]
    pub fn is_read_before_another(&self, id: QuestionId) -> bool {
        self.question_ids().any(|other| self.goes_before(id, other))
    }

    /// Whether another question of the same kind asks for what was read before.
    #[must_use]
    pub fn is_read_after_another(&self, id: QuestionId) -> bool {
        self.question_ids().any(|other| self.goes_before(other, id))
    }

    fn goes_before(&self, one: QuestionId, other: QuestionId) -> bool {
        let (one, after) = (self.handbook().question(one), self.handbook().question(other));
        one.kind == after.kind && one.outdates.contains(&other)
    }
}

/// Where a step may lead, first where it leads if nothing out of the way is found there.
fn usual_first(next: &Next) -> Vec<Target> {
    match next {
        Next::ByRules { otherwise, .. } => {
            std::iter::once(*otherwise).chain(next.targets()).collect()
        }
        _ => next.targets(),
    }
}
