//! Answers that tell of what was there before something changed.
//!
//! An action, or an answer that is another one than before, may outdate what was answered until
//! then: the rig read on the old pump says nothing of the rig on the new one. Such an answer keeps
//! its place in the case and speaks about its own time, but is not the latest of anything.

use super::Worksheet;
use crate::evidence::record::Given;
use crate::formula::{Kind, Unknown, Value};
use crate::handbook::{ActionId, Handbook, Question, QuestionId};

/// What made an answer tell of something else.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outdating {
    /// An action that was done.
    Action(ActionId),
    /// A question whose answer is another one than before.
    Answer(QuestionId),
}

impl Outdating {
    /// It in words that fit after "before": `the oil was changed`.
    #[must_use]
    pub fn in_words(self, handbook: &Handbook) -> String {
        match self {
            Self::Action(id) => {
                let action = handbook.action(id);
                let said = action.once_done.clone();
                said.unwrap_or_else(|| format!("`{}` was done", action.id))
            }
            Self::Answer(id) => {
                let question = handbook.question(id);
                match question.kind {
                    Kind::YesNo | Kind::Choice(_) => {
                        format!("the answer to `{}` changed", question.id)
                    }
                    _ => format!("`{}` was taken anew", question.id),
                }
            }
        }
    }
}

impl Worksheet<'_> {
    /// What came first of all that outdates an answer of a question at a place in the order; none
    /// where it still holds in this view.
    #[must_use]
    pub fn outdated(&self, question: QuestionId, order: usize) -> Option<Outdating> {
        self.outdated_until(question, order, self.view.until.min(self.view.observed_until))
    }

    fn outdated_until(&self, question: QuestionId, from: usize, end: usize) -> Option<Outdating> {
        let by = self.handbook.outdated_by(question)?;
        let done = self.record.done.iter().map(|(id, at)| (*at, Outdating::Action(*id), *id));
        let done = done.filter(|(.., id)| by.actions.contains(id)).map(|(at, by, _)| (at, by));
        let changed = by.questions.iter().flat_map(|&id| {
            self.changes(id, end).into_iter().map(move |at| (at, Outdating::Answer(id)))
        });
        let since = done.chain(changed).filter(|(at, _)| *at > from && *at < end);
        since.min_by_key(|(at, _)| *at).map(|(_, change)| change)
    }

    /// The places at which a question was answered otherwise than before; of what is measured, those
    /// at which it was measured anew.
    fn changes(&self, question: QuestionId, end: usize) -> Vec<usize> {
        let told = self.record.answers(question).map(|(_, given)| given);
        let told: Vec<&Given> =
            told.filter(|given| given.order < end && given.reply.is_known()).collect();
        let is_measured =
            !matches!(self.handbook.question(question).kind, Kind::YesNo | Kind::Choice(_));
        let pairs = told.windows(2).filter(|pair| is_measured || pair[0].reply != pair[1].reply);
        pairs.map(|pair| pair[1].order).collect()
    }

    /// Whether an answer of a setting came after a change that this view doesn't know of, so that
    /// it tells of another thing than the one looked at here.
    pub(super) fn is_of_later_thing(&self, question: QuestionId, given: &Given) -> bool {
        given.order >= self.view.observed_until
            && self
                .outdated_until(question, self.view.observed_until.saturating_sub(1), given.order)
                .is_some()
    }

    /// How many answers of a question still hold.
    #[must_use]
    pub fn answers_that_hold(&self, question: QuestionId) -> usize {
        let given = self.record.answers(question);
        given.filter(|(_, given)| self.outdated(question, given.order).is_none()).count()
    }

    /// What outdated the latest answer of a question that says something, if that is so.
    #[must_use]
    pub fn latest_is_outdated(&self, question: QuestionId) -> Option<Outdating> {
        let latest = self.latest_known(question)?;
        self.outdated(question, latest.order)
    }

    /// The value of an answer that may be outdated.
    pub(super) fn held_value(&self, question: &Question, number: usize, given: &Given) -> Value {
        match self.outdated(given.question, given.order) {
            Some(change) => {
                let since = change.in_words(self.handbook);
                Value::Unknown(Unknown::Outdated(question.id.clone(), since))
            }
            None if self.is_without_unit(given) => {
                Value::Unknown(Unknown::NoUnit(question.id.clone()))
            }
            None => self.answer_value(question, number, given),
        }
    }
}
