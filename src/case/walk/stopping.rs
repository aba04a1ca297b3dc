//! A danger that is told stops the case, whenever and wherever it is told.
//!
//! A step is passed once, on what was known then. What is told later, beside the way, may be what
//! that step would have stopped for; and a danger may be told before any step asks for it.

use super::Walker;
use crate::case::now::{Now, Place};
use crate::evidence::Reply;
use crate::handbook::{Hazard, QuestionId, Step, StepId, StepKind, Target, TreeId};
use crate::text::Line;

impl Walker<'_> {
    /// The stop that all answers together call for by now, if the way has not come to one.
    pub(super) fn stop_by_now(&mut self) -> Option<Now> {
        self.time = self.standing.events.len();
        let passed: Vec<Place> = self.path.iter().map(|passed| passed.place).collect();
        let place = passed
            .into_iter()
            .filter(|place| matches!(self.step_at(*place).kind, StepKind::Ask { .. }))
            .chain(self.dangers_told())
            .find_map(|place| self.leads_to_stop(place))?;
        Some(self.stopped(place))
    }

    /// The stop at a place, told with what is known.
    pub(super) fn stopped(&self, place: Place) -> Now {
        let sheet = self.sheet();
        let StepKind::Stop { text, why, refer, .. } = &self.step_at(place).kind else {
            return Now::Stopped { text: Line::new(), why: None, refer: Line::new(), place };
        };
        let why = why.as_ref().map(|why| why.fill_what_is_known(&sheet));
        Now::Stopped { text: text.fill(&sheet), why, refer: refer.fill(&sheet), place }
    }

    fn step_at(&self, place: Place) -> &Step {
        self.handbook.tree(place.tree).step(place.step)
    }

    /// The stop that a step leads to by now.
    fn leads_to_stop(&self, place: Place) -> Option<Place> {
        let step = self.step_at(place);
        let stops = |target: Target| match target {
            Target::Step(id) if self.is_stop(place, id) => {
                Some(Place { tree: place.tree, step: id })
            }
            _ => None,
        };
        step.next.targets().into_iter().find_map(stops)?;
        stops(self.target(step)?)
    }

    fn is_stop(&self, place: Place, step: StepId) -> bool {
        matches!(self.handbook.tree(place.tree).step(step).kind, StepKind::Stop { .. })
    }

    /// The steps that would ask for a danger of which somebody has told by now. That something is
    /// not ready yet is no danger before it is asked for.
    fn dangers_told(&self) -> Vec<Place> {
        let trees = self.handbook.trees().iter().enumerate();
        trees
            .flat_map(|(tree, all)| {
                let steps = all.steps.iter().enumerate();
                steps.map(move |(step, at)| {
                    (Place { tree: TreeId::at(tree), step: StepId::at(step) }, at)
                })
            })
            .filter(|(_, step)| match step.kind {
                StepKind::Ask { question, .. } => self.tells_of_danger(question),
                _ => false,
            })
            .map(|(place, _)| place)
            .collect()
    }

    fn tells_of_danger(&self, id: QuestionId) -> bool {
        let question = self.handbook.question(id);
        let latest = self.record.answers(id).last().map(|(_, given)| &given.reply);
        let (Some(hazard), Some(reply)) = (question.hazard, latest) else { return false };
        match hazard {
            Hazard::YesNo(false) => false,
            Hazard::YesNo(true) => matches!(reply, Reply::YesNo(true)),
            // Of several choices more than the one that "not sure" counts as may be a danger; the
            // step that asks knows which.
            Hazard::Choice(_) => matches!(reply, Reply::Choice(_) | Reply::NotSure),
        }
    }
}
