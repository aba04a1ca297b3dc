//! The answers of a question, as they are typed behind its id.

use crate::formula::Kind;
use crate::handbook::Handbook;
use crate::text::says_not_sure;

/// Not sure, as one word of a shell.
const NOT_SURE: &str = "not-sure";

/// The answers that a question takes, each behind its id and the sign, with what people read of it; none
/// where it takes a figure or a text, which nobody can offer.
pub(super) fn answers(handbook: &Handbook, id: &str) -> Vec<(String, Option<String>)> {
    let Some(question) = handbook.find_question(id).map(|known| handbook.question(known)) else {
        return Vec::new();
    };
    let mut answers: Vec<(String, Option<String>)> = match &question.kind {
        Kind::YesNo => ["yes", "no"].map(|word| (word.to_owned(), None)).to_vec(),
        Kind::Choice(_) | Kind::Choices(_) => {
            let choices = question.choices.iter();
            choices.map(|choice| (choice.id.clone(), Some(choice.label.clone()))).collect()
        }
        _ => return Vec::new(),
    };
    if !answers.iter().any(|(answer, _)| says_not_sure(answer)) {
        answers.push((NOT_SURE.to_owned(), None));
    }
    answers.into_iter().map(|(answer, name)| (format!("{id}={answer}"), name)).collect()
}
