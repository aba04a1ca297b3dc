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
        typed.split(' ').all(|word| text.contains(word))
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

/// More questions than this that are about all that was said are told apart by nothing (limit of
/// ours).
const MOST_TOLD_APART: usize = 6;

/// What a question has of the words that somebody typed.
struct Heard {
    id: QuestionId,
    /// Which of them it has, by their places.
    held: Vec<usize>,
    /// How many stand in one of its choices.
    in_a_choice: usize,
    is_danger: bool,
}

impl Heard {
    fn of(case: &Case<'_>, id: QuestionId, said: &[&str]) -> Self {
        let in_text = |text: &str| {
            let has = |word: &str| words(text).any(|known| is_same(word, known));
            (0..said.len()).filter(|place| has(said[*place])).collect::<Vec<usize>>()
        };
        let choices = choices(case, id);
        let is_danger = case.handbook().question(id).hazard.is_some();
        let held = in_text(&text(case, id, Reach::All, Audience::Site));
        let in_a_choice = choices.iter().map(|choice| in_text(choice).len()).max().unwrap_or(0);
        Self { id, held, in_a_choice, is_danger }
    }
}

/// Each choice of a question with the words that stand for it, in lower case.
fn choices(case: &Case<'_>, id: QuestionId) -> Vec<String> {
    let view = case.question_view(id);
    let about = |(choice, label): &(String, String)| {
        let own = view.in_words.iter().filter(|(_, answer)| answer == choice);
        let words: Vec<&str> = own.map(|(words, _)| words.as_str()).collect();
        folded(&format!("{label} {}", words.join(" ")))
    };
    view.options.iter().map(about).collect()
}

/// The questions that words typed at another one may belong to, the likeliest first: the only one
/// that is about all that they say, or else the dangers among those, and then the others. Where none
/// is about all, a danger is found by most of the words, and the one that stands out by rare words
/// goes before the dangers that share nothing but common ones with it.
pub(super) fn likely(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> Vec<QuestionId> {
    let typed = folded(typed);
    let mut said: Vec<&str> = Vec::new();
    for word in words(&typed).filter(|word| tells(word)) {
        if !said.iter().any(|known| is_same(word, known)) {
            said.push(word);
        }
    }
    if said.is_empty() {
        return Vec::new();
    }
    let others = case.question_ids().filter(|id| Some(*id) != asked);
    let heard: Vec<Heard> = others.map(|id| Heard::of(case, id, &said)).collect();
    let whole: Vec<&Heard> = heard.iter().filter(|one| one.held.len() == said.len()).collect();
    let mut found: Vec<QuestionId> = match &whole[..] {
        [] => about_most(&heard, said.len()),
        [only] => vec![only.id],
        several => about_all(several, said.len()),
    };
    found.truncate(MOST_OFFERED);
    found
}

/// Of several questions about all that was said the dangers, then the others if they are few and
/// more than a word was said; those first that have it in one choice.
fn about_all(whole: &[&Heard], said: usize) -> Vec<QuestionId> {
    let is_few = said > 1 && whole.len() <= MOST_TOLD_APART;
    let mut kept: Vec<&&Heard> = whole.iter().filter(|one| one.is_danger || is_few).collect();
    kept.sort_by_key(|one| (!one.is_danger, std::cmp::Reverse(one.in_a_choice)));
    kept.into_iter().map(|one| one.id).collect()
}

/// The question that stands out among those about most of what was said, and the dangers.
fn about_most(heard: &[Heard], said: usize) -> Vec<QuestionId> {
    let most = (said / 2 + 1).max(2);
    let rarity: Vec<f64> = (0..said)
        .map(|place| heard.iter().filter(|one| one.held.contains(&place)).count())
        .map(|many| 1.0 / f64::from(u32::try_from(many.max(1)).unwrap_or(u32::MAX)))
        .collect();
    let weight = |one: &Heard| one.held.iter().map(|place| rarity[*place]).sum::<f64>();
    let mut ranked: Vec<(f64, &Heard)> = heard.iter().map(|one| (weight(one), one)).collect();
    ranked.sort_by(|(one, _), (other, _)| other.total_cmp(one));
    let (best, next) = (ranked.first(), ranked.get(1).map_or(0.0, |(weight, _)| *weight));
    let best = best.filter(|(weight, one)| one.held.len() >= most && *weight >= FAR * next);
    let stands_beside = |one: &Heard| {
        best.is_none_or(|(most, best)| one.id != best.id && FAR * weight(one) >= *most)
    };
    let dangers = heard.iter().filter(|one| one.is_danger && one.held.len() >= most);
    let dangers = dangers.filter(|one| stands_beside(one)).map(|one| one.id);
    best.map(|(_, one)| one.id).into_iter().chain(dangers).collect()
}

/// Of two questions the one that weighs so many times as much stands out (`estimate`).
const FAR: f64 = 2.0;

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
