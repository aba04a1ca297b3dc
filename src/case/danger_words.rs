//! What people say of a danger.

use super::case::Case;
use crate::handbook::{Hazard, QuestionId};

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
}
