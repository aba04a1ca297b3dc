//! What people say of a danger.

use super::case::Case;
use crate::handbook::{Hazard, QuestionId};

impl Case<'_> {
    /// The words that stand for the dangerous answer of a safety question; none of any other.
    pub fn danger_words(&self, id: QuestionId) -> impl Iterator<Item = &str> {
        let question = self.handbook().question(id);
        let dangerous = question.hazard.and_then(|hazard| match hazard {
            Hazard::YesNo(yes) => Some(if yes { "yes" } else { "no" }),
            Hazard::Choice(place) => {
                question.choices.get(usize::from(place)).map(|choice| choice.id.as_str())
            }
        });
        let known = question.in_words.iter().filter(move |known| Some(&*known.answer) == dangerous);
        known.map(|known| known.words.as_str())
    }
}
