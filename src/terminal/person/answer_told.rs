//! The answer that words give to a question, whether they name it or not.

use super::choosing::{choice_told, is_left_open};
use super::paired::two_readings;
use super::searching::{tells, words};
use super::weighing::{Known, telling};
use crate::case::{Case, QuestionId};
use crate::terminal::words::folded;
use crate::text::as_said;

/// Where more than a word was said, so many of them have to be in a question (limit of ours).
pub(super) const FEWEST_WORDS: usize = 2;

/// The answer that words give to a question: a choice, all of a list of readings, or what the handbook
/// takes them for.
pub(super) fn answer_told(
    case: &Case<'_>,
    id: QuestionId,
    typed: &str,
    words: &str,
) -> Option<String> {
    let view = case.question_view(id);
    if is_left_open(case, id, typed) {
        return None;
    }
    if view.takes_readings {
        return readings_told(case, id, typed);
    }
    if !view.options.is_empty() {
        let in_full = || called_in_full(case, id, typed);
        return choice_told(case, id, words).or_else(in_full);
    }
    value_in_words(case, id, typed).filter(|value| {
        // Nothing is no figure that was told: the words have to name the question as well.
        let is_nothing = value.starts_with("0 ");
        !is_nothing || is_named_by(case, id, typed)
    })
}

/// The value of a question that stands for words which are typed among others.
pub(super) fn value_in_words(case: &Case<'_>, id: QuestionId, typed: &str) -> Option<String> {
    let view = case.question_view(id);
    let is_meant = |known: &str| is_told_as(known, typed) || stand_within(known, typed);
    let known = view.in_words.into_iter().filter(|_| view.options.is_empty());
    known.into_iter().find(|(known, _)| is_meant(known)).map(|(_, answer)| answer)
}

/// Whether words are typed for a value, as they stand: who wants to change the oil tells of no oil that
/// was changed.
fn is_told_as(known: &str, typed: &str) -> bool {
    let (known_words, typed_words) = (folded(known), folded(typed));
    let is_said = |word: &str| words(&typed_words).any(|said| said == word);
    stands_for(known, typed) && words(&known_words).filter(|word| tells(word)).all(is_said)
}

/// Whether words have something of what a question asks.
pub(super) fn is_named_by(case: &Case<'_>, id: QuestionId, typed: &str) -> bool {
    let known = Known::of(case);
    let texts = known.questions.iter().find(|texts| texts.id == id);
    let said = telling(typed);
    texts
        .is_some_and(|texts| texts.asked.iter().any(|asked| said.iter().any(|w| asked.contains(w))))
}

/// Whether words are typed for an answer: as they stand, or all that tell something where several do.
pub(super) fn stands_for(known: &str, typed: &str) -> bool {
    let words = telling(known);
    as_said(known) == as_said(typed)
        || words.len() >= FEWEST_WORDS && words.is_subset(&telling(typed))
}

/// Whether several words for a value stand within others that tell nothing else: `after no rise at all`.
fn stand_within(known: &str, typed: &str) -> bool {
    let all = |text: &str| -> Vec<String> { words(&folded(text)).map(str::to_owned).collect() };
    let (known_words, typed_words) = (all(known), all(typed));
    let stands = || typed_words.windows(known_words.len()).any(|window| window == known_words);
    known_words.len() >= FEWEST_WORDS && stands() && telling(typed).is_subset(&telling(known))
}

/// The readings that a line holds for a question that takes them: as they stand, or two of them told in a
/// sentence.
pub(super) fn readings_told(case: &Case<'_>, id: QuestionId, typed: &str) -> Option<String> {
    let is_read = |text: &String| case.read(id, text).is_ok_and(|read| read.reply.is_known());
    Some(typed.to_owned()).filter(is_read).or_else(|| two_readings(typed).filter(is_read))
}

/// The choice of a list that several words would be taken for at its own question: `it rises`.
pub(super) fn called_in_full(case: &Case<'_>, id: QuestionId, typed: &str) -> Option<String> {
    let is_several = typed.split_whitespace().count() > 1;
    case.choice_called(id, typed).filter(|_| is_several).map(str::to_owned)
}
