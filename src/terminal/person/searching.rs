//! Which questions hold words, as people type them.

use super::answering::Audience;
use crate::case::{Case, QuestionId};
use crate::terminal::words::folded;
use crate::text::near_name;

/// How much of a question is looked through.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Reach {
    /// What stands on the screen: as it is read aloud on the phone, as it is asked on site.
    Shown,
    /// The answers below it too.
    Answers,
    /// How the others get it too, its id, and the words that stand for its answers.
    All,
}

/// A question's words as far as they are looked through, in lower case.
fn text(case: &Case<'_>, id: QuestionId, reach: Reach, audience: Audience) -> String {
    let view = case.question_view(id);
    let (asked, said) = (view.ask.to_text(), view.say.map(|say| say.to_text()));
    let mut text = match (&said, audience) {
        (Some(said), Audience::Phone) => said.clone(),
        _ => asked.clone(),
    };
    if reach >= Reach::Answers {
        for (_, label) in &view.options {
            text = format!("{text} {label}");
        }
    }
    if reach >= Reach::All {
        text = format!("{text} {asked} {} {}", said.unwrap_or_default(), view.id);
        for (words, _) in &view.in_words {
            text = format!("{text} {words}");
        }
    }
    folded(&text)
}

/// The questions that hold every word typed. Those that have them on the screen come first, with
/// what is asked before what is answered, and then those that have them elsewhere; the latter as
/// far as all of them are no more than `most`.
pub(super) fn found(
    case: &Case<'_>,
    ids: &[QuestionId],
    typed: &str,
    audience: Audience,
    most: usize,
) -> Vec<QuestionId> {
    let typed = folded(typed);
    let holds = |id: QuestionId, reach: Reach| {
        let text = text(case, id, reach, audience);
        typed.split(' ').all(|word| begins_a_word(&text, word))
    };
    let mut found: Vec<QuestionId> = Vec::new();
    for reach in [Reach::Shown, Reach::Answers, Reach::All] {
        let more = ids.iter().copied().filter(|id| !found.contains(id) && holds(*id, reach));
        let more: Vec<QuestionId> = more.collect();
        if !found.is_empty() && found.len() + more.len() > most {
            break;
        }
        found.extend(more);
    }
    found
}

/// Whether a word of the text begins so: *all* is no part of *shall*.
fn begins_a_word(text: &str, beginning: &str) -> bool {
    text.match_indices(beginning).any(|(at, _)| {
        !beginning.starts_with(char::is_alphanumeric)
            || !text[..at].ends_with(char::is_alphanumeric)
    })
}

/// What was probably meant by words that no question holds: each word that none knows is put right,
/// if some question then holds all of them.
pub(super) fn put_right(
    case: &Case<'_>,
    ids: &[QuestionId],
    typed: &str,
    audience: Audience,
) -> Option<String> {
    let all: Vec<String> = ids.iter().map(|id| text(case, *id, Reach::All, audience)).collect();
    let known: Vec<&str> = all.iter().flat_map(|text| words(text)).collect();
    let right = |word: &str| match known.iter().any(|known| known.contains(word)) {
        true => Some(word.to_owned()),
        false => near_name(word, known.iter().copied()).map(str::to_owned),
    };
    let meant: Option<Vec<String>> = folded(typed).split(' ').map(right).collect();
    let meant = meant?.join(" ");
    (meant != folded(typed) && !found(case, ids, &meant, audience, ids.len()).is_empty())
        .then_some(meant)
}

/// Whether words typed where a value is wanted say enough to be looked for: two that tell
/// something.
pub(super) fn says_enough(typed: &str) -> bool {
    words(&folded(typed)).filter(|word| tells(word)).count() > 1
}

pub(super) fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|character: char| !character.is_alphanumeric()).filter(|word| !word.is_empty())
}

/// Words that tell nothing of what somebody speaks of.
const EMPTY: [&str; 25] = [
    "yes", "the", "and", "but", "for", "from", "with", "that", "this", "there", "here", "have",
    "has", "had", "was", "were", "are", "now", "out", "just", "some", "somebody", "someone",
    "when", "very",
];

/// Whether a word may tell what somebody speaks of: three letters or more.
pub(super) fn tells(word: &str) -> bool {
    word.chars().count() > 2 && !EMPTY.contains(&word)
}

/// Whether two words are forms of one: *smell* and *smells*, *burns* and *burning*.
pub(super) fn is_same(one: &str, other: &str) -> bool {
    stem(one) == stem(other)
}

/// Forms that no ending tells.
const IRREGULAR: [(&str, &str); 6] = [
    ("rose", "rise"),
    ("risen", "rise"),
    ("fell", "fall"),
    ("fallen", "fall"),
    ("stood", "stand"),
    ("held", "hold"),
];

/// What forms of a word have in common.
pub(super) fn stem(word: &str) -> &str {
    let word = IRREGULAR.iter().find(|(form, _)| *form == word).map_or(word, |(_, of)| *of);
    let cut = |ending: &str| word.strip_suffix(ending).filter(|rest| rest.chars().count() > 2);
    let is_plain = word.ends_with("ss");
    let endings = ["ing", "es", "ed", "s"].iter().filter(|_| !is_plain);
    let stem = endings.copied().find_map(cut).unwrap_or(word);
    stem.strip_suffix('e').filter(|rest| rest.chars().count() > 2).unwrap_or(stem)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_found_from_its_start() {
        assert!(begins_a_word("shall we follow all of it", "all"));
        assert!(begins_a_word("gauge_reading", "read") && begins_a_word("r-32", "32"));
        assert!(!begins_a_word("shall we follow", "all"));
    }

    #[test]
    fn forms_of_a_word_are_the_same_and_others_are_not() {
        assert!(is_same("smell", "smells") && is_same("burns", "burning"));
        assert!(is_same("smoke", "smokes") && is_same("hose", "hoses"));
        assert!(is_same("compressed", "compress") && is_same("gas", "gas"));
        assert!(!is_same("air", "airs_other") && !is_same("compressor", "compressed"));
        assert!(is_same("rose", "rises") && is_same("held", "hold") && !is_same("hole", "held"));
        assert!(!tells("of") && !tells("the") && tells("oil"));
    }
}
