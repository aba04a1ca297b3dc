//! Which cautions bite where the case stands, and which were met on the way.

use super::case::Case;
use super::now::{Now, Passage, Passed, Place};
use super::view::CautionView;
use crate::formula::{Value, Verdict, verdict};
use crate::handbook::{CautionId, QuestionId, StepKind};

impl Case<'_> {
    /// The cautions that bite where the case stands: those of the step, and of its question or
    /// action.
    #[must_use]
    pub fn cautions_here(&self) -> Vec<CautionView> {
        let place = match self.now() {
            Now::Ask { place, .. }
            | Now::Do { place, .. }
            | Now::Act { place, .. }
            | Now::Stopped { place, .. } => *place,
            Now::Ended { .. } => match self.path().last() {
                // Nobody sets about work that is held back.
                Some(passed) if !self.waits_for_readings(passed) => passed.place,
                _ => return Vec::new(),
            },
            Now::Acknowledge { .. } => return Vec::new(),
        };
        self.cautions_of(place).into_iter().map(|id| self.caution_view(id)).collect()
    }

    /// Whether a step was passed whose action readings that contradict each other hold back.
    fn waits_for_readings(&self, passed: &Passed) -> bool {
        let Place { tree, step } = passed.place;
        let kind = &self.handbook().tree(tree).step(step).kind;
        passed.passage == Passage::Through && matches!(kind, StepKind::Act { .. })
    }

    /// The cautions of a step, and of its question or action, each once.
    #[must_use]
    pub fn cautions_of(&self, place: Place) -> Vec<CautionId> {
        let handbook = self.handbook();
        let step = handbook.tree(place.tree).step(place.step);
        let own: &[CautionId] = match &step.kind {
            StepKind::Ask { question, .. } => &handbook.question(*question).cautions,
            StepKind::Act { action, .. } => &handbook.action(*action).cautions,
            _ => &[],
        };
        let mut cautions = step.cautions.clone();
        cautions.extend(own.iter().filter(|id| !step.cautions.contains(id)));
        cautions.retain(|&id| self.applies(id));
        cautions
    }

    /// Every caution met on the way so far, in order, each once.
    #[must_use]
    pub fn cautions_met(&self) -> Vec<CautionView> {
        let mut met: Vec<CautionId> = Vec::new();
        let passed = self.path().iter().map(|passed| passed.place);
        let here = match self.now() {
            Now::Ask { place, .. } | Now::Do { place, .. } | Now::Act { place, .. } => Some(*place),
            Now::Acknowledge { caution, .. } => {
                met.push(*caution);
                None
            }
            _ => None,
        };
        for id in passed.chain(here).flat_map(|place| self.cautions_of(place)) {
            if !met.contains(&id) {
                met.push(id);
            }
        }
        met.into_iter().map(|id| self.caution_view(id)).collect()
    }

    /// The cautions of a question.
    #[must_use]
    pub fn cautions_of_question(&self, id: QuestionId) -> Vec<CautionId> {
        let own = &self.handbook().question(id).cautions;
        own.iter().copied().filter(|&caution| self.applies(caution)).collect()
    }

    /// Whether a caution is to be shown, as far as is known now: a doubt doesn't hide it.
    fn applies(&self, id: CautionId) -> bool {
        let caution = self.handbook().caution(id);
        let sheet = self.worksheet();
        let is_left_out = |condition| {
            matches!(sheet.evaluate(condition), Value::Truth(draws)
                    if matches!(verdict(&draws), Verdict::No(_)))
        };
        !caution.only_if.as_ref().is_some_and(is_left_out)
    }

    /// Those of some cautions that are to be shown.
    pub(super) fn applying(&self, cautions: &[CautionId]) -> Vec<CautionView> {
        let here = cautions.iter().filter(|&&id| self.applies(id));
        here.map(|&id| self.caution_view(id)).collect()
    }
}
