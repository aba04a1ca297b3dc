//! A question that the answer to another one answers, such as the class of a refrigerant that was
//! named.

use super::case::Case;
use crate::evidence::Reply;
use crate::handbook::QuestionId;

/// An answer that follows from another one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KnownBy {
    /// The answer, as it would be typed.
    pub answer: String,
    /// What it is called.
    pub label: String,
    /// The answer that it follows from, as it is called.
    pub by: String,
}

impl Case<'_> {
    /// The answer to a question that the latest answer to another one gives; none where that one
    /// is not known, or where its words stand for another choice that has to be asked for.
    #[must_use]
    pub fn known_by_another(&self, id: QuestionId) -> Option<KnownBy> {
        let handbook = self.handbook();
        let question = handbook.question(id);
        question.known_by.iter().find_map(|(choice, other)| {
            let given = self.latest_answer(*other)?;
            let Reply::Choice(named) = &given.reply else { return None };
            let other = handbook.question(*other);
            let by = other.choices.iter().find(|choice| choice.id == *named)?.label.clone();
            let means = |words: &str| question.answer_in_words(words) == Some(choice.as_str());
            if self.worksheet().outdated(given.question, given.order).is_some()
                || !by.split(", ").any(means)
            {
                return None;
            }
            let label = question.choices.iter().find(|known| known.id == *choice)?.label.clone();
            Some(KnownBy { answer: choice.clone(), label, by })
        })
    }
}
