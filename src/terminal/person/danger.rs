//! A danger that is told where something else is asked: its question is put at once.

use super::answering::Person;
use super::searching::{is_same, tells, words};
use crate::case::{Case, QuestionId, Response};
use crate::terminal::words::folded;
use crate::text::Line;

/// The fewest telling words by which a danger is known (limit of ours: one alone is said of many
/// things).
const FEWEST_WORDS: usize = 2;

/// The safety question whose dangerous answer these words tell of: they hold all words of something
/// that the handbook takes for that answer. Who is asked just that is answering it.
pub(super) fn danger_told(
    case: &Case<'_>,
    asked: Option<QuestionId>,
    typed: &str,
) -> Option<QuestionId> {
    let typed = folded(typed);
    let said: Vec<&str> = words(&typed).collect();
    let holds = |known: &str| {
        let known = folded(known);
        let telling: Vec<&str> = words(&known).filter(|word| tells(word)).collect();
        telling.len() >= FEWEST_WORDS
            && telling.iter().all(|word| said.iter().any(|heard| is_same(word, heard)))
    };
    let is_told = |id: &QuestionId| case.danger_words(*id).any(holds);
    case.question_ids().filter(|id| Some(*id) != asked).find(is_told)
}

impl Person<'_> {
    /// Puts the safety question of a danger that was told, before anything else goes on.
    pub(super) fn danger(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        id: QuestionId,
    ) -> Option<Response> {
        let told = format!("\"{typed}\" may tell of a danger, so that is asked first.");
        self.console.show(&[Line::warning(told)]);
        self.answer_out_of_turn(case, id)
    }
}
