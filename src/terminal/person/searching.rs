//! Which questions hold words, as people type them.

use super::answering::Audience;
use crate::case::{Case, QuestionId};
use crate::terminal::words::folded;
use crate::text::near_name;

/// The most questions that are offered for words typed at another one (limit of ours: a list to
/// take in at a glance).
const MOST_OFFERED: usize = 3;

/// How much of a question is looked through.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Reach {
    /// What is asked, and its id.
    Asked,
    /// What is read aloud to a caller too.
    Said,
    /// Its choices too, with the words that stand for them.
    Choices,
}

/// A question's words as far as they are looked through, in lower case.
fn text(case: &Case<'_>, id: QuestionId, reach: Reach) -> String {
    let view = case.question_view(id);
    let mut text = format!("{} {}", view.id, view.ask.to_text());
    if let Some(say) = view.say.filter(|_| reach >= Reach::Said) {
        text = format!("{text} {}", say.to_text());
    }
    if reach >= Reach::Choices {
        let labels = view.options.iter().map(|(_, label)| label);
        let words = view.in_words.iter().map(|(words, _)| words);
        for label in labels.chain(words) {
            text = format!("{text} {label}");
        }
    }
    folded(&text)
}

/// The questions that hold every word typed, in what is asked or in their id; where none does, those
/// that hold them with what is read aloud, and then with their choices. Whoever reads them aloud has
/// those words before him, so that for a caller they count like what is asked.
pub(super) fn found(
    case: &Case<'_>,
    ids: &[QuestionId],
    typed: &str,
    audience: Audience,
) -> Vec<QuestionId> {
    let typed = folded(typed);
    let holds = |id: &QuestionId, reach: Reach| {
        let text = text(case, *id, reach);
        typed.split(' ').all(|word| text.contains(word))
    };
    let of = |reach| ids.iter().copied().filter(|id| holds(id, reach)).collect::<Vec<_>>();
    let reaches = match audience {
        Audience::Site => &[Reach::Asked, Reach::Said, Reach::Choices][..],
        Audience::Phone => &[Reach::Said, Reach::Choices],
    };
    reaches.iter().copied().map(of).find(|found| !found.is_empty()).unwrap_or_default()
}

/// What was probably meant by words that no question holds: each word that none knows is put right,
/// if some question then holds all of them.
pub(super) fn put_right(
    case: &Case<'_>,
    ids: &[QuestionId],
    typed: &str,
    audience: Audience,
) -> Option<String> {
    let all: Vec<String> = ids.iter().map(|id| text(case, *id, Reach::Choices)).collect();
    let known: Vec<&str> = all.iter().flat_map(|text| words(text)).collect();
    let right = |word: &str| match known.iter().any(|known| known.contains(word)) {
        true => Some(word.to_owned()),
        false => near_name(word, known.iter().copied()).map(str::to_owned),
    };
    let meant: Option<Vec<String>> = folded(typed).split(' ').map(right).collect();
    let meant = meant?.join(" ");
    (meant != folded(typed) && !found(case, ids, &meant, audience).is_empty()).then_some(meant)
}

/// The questions that words typed at another one may belong to: the only one that is about all that
/// they say, or else the dangers among those. A danger is also found by most of the words.
pub(super) fn likely(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> Vec<QuestionId> {
    let typed = folded(typed);
    let said: Vec<&str> = words(&typed).filter(|word| tells(word)).collect();
    if said.is_empty() {
        return Vec::new();
    }
    let held = |id: &QuestionId| {
        let text = text(case, *id, Reach::Choices);
        said.iter().filter(|word| words(&text).any(|known| is_same(word, known))).count()
    };
    let is_danger = |id: &QuestionId| case.handbook().question(*id).hazard.is_some();
    let others = case.question_ids().filter(|id| Some(*id) != asked);
    let counted: Vec<(QuestionId, usize)> = others.map(|id| (id, held(&id))).collect();
    let whole: Vec<QuestionId> =
        counted.iter().filter(|(_, held)| *held == said.len()).map(|(id, _)| *id).collect();
    if let [only] = whole[..] {
        return vec![only];
    }
    let most = said.len() / 2 + 1;
    let at_least = if whole.iter().any(is_danger) { said.len() } else { most.max(2) };
    let mut dangers: Vec<QuestionId> = counted
        .into_iter()
        .filter(|(id, held)| *held >= at_least && is_danger(id))
        .map(|(id, _)| id)
        .collect();
    dangers.truncate(MOST_OFFERED);
    dangers
}

/// Whether words typed where a value is wanted say enough to be looked for: two that tell
/// something.
pub(super) fn says_enough(typed: &str) -> bool {
    words(&folded(typed)).filter(|word| tells(word)).count() > 1
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|character: char| !character.is_alphanumeric()).filter(|word| !word.is_empty())
}

/// Words that tell nothing of what somebody speaks of.
const EMPTY: [&str; 24] = [
    "the", "and", "but", "for", "from", "with", "that", "this", "there", "here", "have", "has",
    "had", "was", "were", "are", "now", "out", "just", "some", "somebody", "someone", "when",
    "very",
];

/// Whether a word may tell what somebody speaks of: three letters or more.
fn tells(word: &str) -> bool {
    word.chars().count() > 2 && !EMPTY.contains(&word)
}

/// Whether two words are forms of one: *smell* and *smells*, *burns* and *burning*.
fn is_same(one: &str, other: &str) -> bool {
    stem(one) == stem(other)
}

fn stem(word: &str) -> &str {
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
    fn forms_of_a_word_are_the_same_and_others_are_not() {
        assert!(is_same("smell", "smells") && is_same("burns", "burning"));
        assert!(is_same("smoke", "smokes") && is_same("hose", "hoses"));
        assert!(is_same("compressed", "compress") && is_same("gas", "gas"));
        assert!(!is_same("air", "airs_other") && !is_same("compressor", "compressed"));
        assert!(!tells("of") && !tells("the") && tells("oil"));
    }
}
