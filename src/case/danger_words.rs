//! What people say of a danger.

use super::case::Case;
use super::now::Now;
use crate::evidence::Reply;
use crate::handbook::{Hazard, Next, QuestionId, Step, StepId, StepKind, Target, TreeId};
use crate::text::Line;

/// What a step at which the work stops says.
pub(super) struct Stop {
    /// What is to be done.
    pub text: Line,
    /// Why, and when the work may go on.
    pub why: Option<Line>,
}

impl Case<'_> {
    /// The words that stand for the dangerous answer of a safety question; none of any other.
    pub fn danger_words(&self, id: QuestionId) -> impl Iterator<Item = &str> {
        let question = self.handbook().question(id);
        let dangerous = self.dangerous_choice(id);
        let known = question.in_words.iter().filter(move |known| Some(&*known.answer) == dangerous);
        known.map(|known| known.words.as_str())
    }

    /// The dangerous answer of a safety question: `yes`, `no` or the id of a choice; none of any
    /// other question.
    #[must_use]
    pub fn dangerous_choice(&self, id: QuestionId) -> Option<&str> {
        let question = self.handbook().question(id);
        match question.hazard? {
            Hazard::YesNo(yes) => Some(if yes { "yes" } else { "no" }),
            Hazard::Choice(place) => {
                question.choices.get(usize::from(place)).map(|choice| choice.id.as_str())
            }
        }
    }

    /// Whether safety hangs on a question: it has a dangerous answer, or its answer gives or outdates
    /// that of one that has, as a refrigerant's name does.
    #[must_use]
    pub fn is_of_safety(&self, id: QuestionId) -> bool {
        let handbook = self.handbook();
        let question = handbook.question(id);
        let is_judged = |other: &QuestionId| handbook.question(*other).hazard.is_some();
        let gives = |other: &QuestionId| {
            handbook.question(*other).known_by.iter().any(|(_, giver)| *giver == id)
        };
        question.hazard.is_some()
            || question.outdates.iter().any(is_judged)
            || self.question_ids().filter(is_judged).any(|other| gives(&other))
    }

    /// What the dangerous choice of a safety question is called; none of one that is answered yes or
    /// no, or of any other question.
    #[must_use]
    pub fn danger_label(&self, id: QuestionId) -> Option<&str> {
        let question = self.handbook().question(id);
        match question.hazard? {
            Hazard::YesNo(_) => None,
            Hazard::Choice(place) => {
                question.choices.get(usize::from(place)).map(|choice| choice.label.as_str())
            }
        }
    }

    /// What is to be done where a safety question gets its dangerous answer: the words of the stop to
    /// which that answer leads by itself, those of the tree at hand before others. None where it leads
    /// to no stop.
    #[must_use]
    pub fn stop_of_danger(&self, id: QuestionId) -> Option<Line> {
        self.whole_stop_of_danger(id).map(|stop| stop.text)
    }

    /// Whether an answer, as typed, tells of a danger or leads to a stop by itself; of several choices
    /// `not sure` counts as the dangerous one.
    #[must_use]
    pub fn is_danger_told(&self, id: QuestionId, typed: &str) -> bool {
        let question = self.handbook().question(id);
        let stops = |answer: usize| self.stop_in(None, id, answer).is_some();
        let Ok(read) = self.read(id, typed) else { return false };
        match (&read.reply, question.hazard) {
            (Reply::NotSure, hazard) => matches!(hazard, Some(Hazard::Choice(_))),
            (Reply::YesNo(yes), hazard) => {
                hazard == Some(Hazard::YesNo(*yes)) || stops(usize::from(*yes))
            }
            (Reply::Choice(choice), hazard) => {
                let place = question.choices.iter().position(|known| known.id == *choice);
                let is_hazard = |place: usize| match hazard {
                    Some(Hazard::Choice(danger)) => usize::from(danger) == place,
                    _ => false,
                };
                place.is_some_and(|place| is_hazard(place) || stops(place))
            }
            _ => false,
        }
    }

    /// The same with its reason.
    pub(super) fn whole_stop_of_danger(&self, id: QuestionId) -> Option<Stop> {
        let answer = match self.handbook().question(id).hazard? {
            Hazard::YesNo(yes) => usize::from(yes),
            Hazard::Choice(place) => usize::from(place),
        };
        let (Now::Ask { place, .. } | Now::Do { place, .. } | Now::Act { place, .. }) = self.now()
        else {
            return self.stop_in(None, id, answer);
        };
        self.stop_in(Some(place.tree), id, answer)
    }

    fn stop_in(&self, first: Option<TreeId>, id: QuestionId, answer: usize) -> Option<Stop> {
        let handbook = self.handbook();
        let all = (0..handbook.trees().len()).map(TreeId::at);
        let mut trees = first.into_iter().chain([self.tree()]).chain(all);
        let (text, why) = trees.find_map(|tree| {
            let tree = handbook.tree(tree);
            let behind = tree.steps.iter().filter_map(|step| step_behind(step, id, answer));
            behind.map(|step| &tree.step(step).kind).find_map(|kind| match kind {
                StepKind::Stop { text, why, .. } => Some((text, why)),
                _ => None,
            })
        })?;
        let sheet = self.worksheet();
        let why = why.as_ref().map(|why| why.fill_what_is_known(&sheet));
        Some(Stop { text: text.fill_what_is_known(&sheet), why })
    }
}

/// The step of its own tree to which an answer leads where this step asks for it.
fn step_behind(step: &Step, id: QuestionId, answer: usize) -> Option<StepId> {
    let StepKind::Ask { question, .. } = step.kind else { return None };
    let Next::ByAnswer { targets, .. } = &step.next else { return None };
    match targets.get(answer).filter(|_| question == id)? {
        Target::Step(step) => Some(*step),
        Target::Tree(_) => None,
    }
}
