//! A danger that is told where something else is asked: its question is put at once.

use super::answering::Person;
use super::choosing::is_left_open;
use super::facts::parts;
use super::pressure::is_pressure_told;
use super::searching::{is_same, tells, words};
use crate::case::{Case, QuestionId, Response};
use crate::terminal::words::folded;
use crate::text::Line;

/// The fewest telling words by which a danger is known (limit of ours: one alone is said of many
/// things).
const FEWEST_WORDS: usize = 2;

/// What a pressure above that of the air says, wherever it was read.
const UNDER_PRESSURE: &str = "under pressure";

/// The safety question whose dangerous answer these words tell of: they hold all words of something
/// that the handbook takes for that answer. A pressure above that of the air says that the system is under
/// pressure. Who is asked just that is answering it.
pub(super) fn danger_told(
    case: &Case<'_>,
    asked: Option<QuestionId>,
    typed: &str,
) -> Option<QuestionId> {
    let pressure = || is_pressure_told(case, asked, typed).then_some(UNDER_PRESSURE);
    in_words(case, asked, typed).or_else(|| in_words(case, asked, pressure()?))
}

/// The same by the words alone, whatever was read.
fn in_words(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> Option<QuestionId> {
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

/// The safety questions whose dangerous answer a single word points to, such as `smells`: other things
/// are told with it too, so they are offered, before all others.
pub(super) fn dangers_hinted(
    case: &Case<'_>,
    asked: Option<QuestionId>,
    typed: &str,
) -> Vec<QuestionId> {
    let typed = folded(typed);
    let said: Vec<&str> = words(&typed).collect();
    let points = |known: &str| {
        let known = folded(known);
        let mut all = words(&known);
        match (all.next(), all.next()) {
            (Some(only), None) => said.iter().any(|heard| is_same(only, heard)),
            _ => false,
        }
    };
    let is_hinted = |id: &QuestionId| {
        let label = case.danger_label(*id).unwrap_or_default();
        case.danger_words(*id).chain(label.split(", ")).any(points)
    };
    case.question_ids().filter(|id| Some(*id) != asked).filter(is_hinted).collect()
}

/// Whether a text that may stand for itself, such as a name or a note, tells of a danger or points to one,
/// and nobody has denied it for these words.
pub(super) fn points_to_danger(case: &Case<'_>, denied: Option<&str>, typed: &str) -> bool {
    denied != Some(folded(typed).as_str()) && !dangers_in(case, typed).is_empty()
}

/// The safety questions that a text tells of or points to, the surest first.
pub(in crate::terminal) fn dangers_in(case: &Case<'_>, typed: &str) -> Vec<QuestionId> {
    let told = danger_told(case, None, typed);
    let hinted = dangers_hinted(case, None, typed).into_iter().filter(|id| Some(*id) != told);
    told.into_iter().chain(hinted).collect()
}

/// What else a line tells beside a danger, other dangers first.
pub(super) fn told_beside(case: &Case<'_>, danger: QuestionId, typed: &str) -> Vec<String> {
    let parts = parts(typed);
    if parts.len() < 2 {
        return Vec::new();
    }
    let is_of_it = |part: &String| {
        danger_told(case, None, part) == Some(danger)
            || dangers_hinted(case, None, part).contains(&danger)
    };
    dangers_first(case, parts.into_iter().filter(|part| !is_of_it(part)).collect())
}

/// The parts of a line, those that tell of a danger first.
pub(super) fn dangers_first(case: &Case<'_>, parts: Vec<String>) -> Vec<String> {
    let is_danger = |part: &String| {
        danger_told(case, None, part).is_some() || !dangers_hinted(case, None, part).is_empty()
    };
    let (dangers, others): (Vec<String>, Vec<String>) = parts.into_iter().partition(is_danger);
    [dangers, others].concat()
}

impl Person<'_> {
    /// Puts the safety question of a danger that was told, before anything else goes on.
    pub(super) fn danger(
        &mut self,
        case: &Case<'_>,
        typed: &str,
        id: QuestionId,
    ) -> Option<Response> {
        // What it was read at, and whether that is so, nobody has said yet: no answer stands ready.
        let is_pressure =
            in_words(case, None, typed) != Some(id) && is_pressure_told(case, None, typed);
        let told = match is_pressure {
            true => format!(
                "\"{typed}\" is more than the air's pressure: the system may be charged, or under \
                 nitrogen, so that is asked first."
            ),
            false => format!("\"{typed}\" may tell of a danger, so that is asked first."),
        };
        self.console.show(&[Line::warning(told)]);
        self.facts.extend(told_beside(case, id, typed));
        let is_open = is_pressure || is_left_open(case, id, typed);
        let ready = case.dangerous_choice(id).filter(|_| !is_open);
        self.chosen_value = ready.map(|choice| (id, choice.to_owned()));
        self.ask_for_danger(case, id, typed)
    }
}
