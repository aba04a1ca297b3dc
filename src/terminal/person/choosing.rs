//! The answer of a list that words name, to stand ready where its question is put.

use std::collections::BTreeSet;

use super::searching::{stem, words};
use super::weighing::telling;
use crate::case::{Case, QuestionId, QuestionView};
use crate::terminal::words::folded;
use crate::text::{as_said, is_in_doubt};

/// The most words that name an answer (limit of ours).
const LONGEST_NAME: usize = 4;

/// The shortest name by which an answer is known within a sentence, in letters and digits (limit of
/// ours: a shorter one stands in other words).
const SHORTEST_NAME: usize = 3;

/// The choice of a question that words name; none where they name several or none. An answer that
/// takes a danger away is never made ready, and none at all where safety hangs on what somebody is not
/// sure of.
pub(super) fn choice_told(case: &Case<'_>, id: QuestionId, typed: &str) -> Option<String> {
    if is_left_open(case, id, typed) {
        return None;
    }
    let view = case.question_view(id);
    let named = choice_named(&view, typed);
    let is_outright = named.as_ref().is_some_and(|told| !matches!(told.as_str(), "yes" | "no"));
    let told = named.or_else(|| only_best(&view, &by_telling_words(&view, typed)))?;
    let dangerous = case.dangerous_choice(id);
    let may_be_ready = dangerous.is_none_or(|choice| is_outright || told == choice);
    may_be_ready.then_some(told)
}

/// Whether words give no answer to a question, since safety hangs on it and they are in doubt.
pub(super) fn is_left_open(case: &Case<'_>, id: QuestionId, typed: &str) -> bool {
    is_in_doubt(typed) && case.is_of_safety(id)
}

/// The only choice whose name stands in what was typed, the longest name first: `R-290` in `fogging,
/// R 290`.
pub(super) fn choice_named(view: &QuestionView, typed: &str) -> Option<String> {
    let typed = folded(typed);
    let tokens: Vec<&str> =
        typed.split([' ', ',', ';', ':']).filter(|token| !token.is_empty()).collect();
    let said: BTreeSet<String> = (1..=LONGEST_NAME.min(tokens.len()))
        .flat_map(|length| tokens.windows(length).map(|window| as_said(&window.join(" "))))
        .filter(|said| said.chars().count() >= SHORTEST_NAME)
        .collect();
    let longest = |(choice, label): &(String, String)| {
        let own = view.in_words.iter().filter(|(_, answer)| answer == choice);
        let names =
            own.map(|(words, _)| words.as_str()).chain(label.split(", ")).chain([label.as_str()]);
        names
            .map(as_said)
            .filter(|name| said.contains(name))
            .map(|name| name.len())
            .max()
            .unwrap_or(0)
    };
    let lengths: Vec<usize> = view.options.iter().map(longest).collect();
    only_best(view, &lengths)
}

/// How much of what was said each choice has: all of words that stand for it, or words of its label
/// that no other label has. Of yes and no only the former, and where one word alone tells, all others
/// have to be said too: who *charged it by the glass* says nothing of *charge in it*.
fn by_telling_words(view: &QuestionView, typed: &str) -> Vec<usize> {
    let said = telling(typed);
    let folded = folded(typed);
    let all: BTreeSet<&str> = words(&folded).map(stem).collect();
    let is_said_in_full = |known: &str| words(known).all(|word| all.contains(stem(word)));
    let labels: Vec<BTreeSet<String>> =
        view.options.iter().map(|(_, label)| telling(label)).collect();
    let has = |place: usize, (choice, _): &(String, String)| {
        let own = view.in_words.iter().filter(|(_, answer)| answer == choice);
        let is_yes_no = matches!(choice.as_str(), "yes" | "no");
        let counts = |known: &&String, telling: &BTreeSet<String>| {
            !is_yes_no || telling.len() > 1 || is_said_in_full(known)
        };
        let whole = own
            .map(|(known, _)| (known, telling(known)))
            .filter(|(known, words)| words.is_subset(&said) && counts(known, words))
            .map(|(_, words)| words);
        let in_words = whole.map(|words| words.len()).max().unwrap_or(0);
        let is_alone = |word: &&String| {
            labels.iter().enumerate().all(|(other, label)| other == place || !label.contains(*word))
        };
        let in_label = labels[place].iter().filter(|word| said.contains(*word)).filter(is_alone);
        if is_yes_no { in_words } else { in_words.max(in_label.count()) }
    };
    view.options.iter().enumerate().map(|(place, option)| has(place, option)).collect()
}

/// The choice that has more than any other.
fn only_best(view: &QuestionView, has: &[usize]) -> Option<String> {
    let best = has.iter().copied().max().filter(|best| *best > 0)?;
    let mut places = has.iter().enumerate().filter(|(_, has)| **has == best);
    match (places.next(), places.next()) {
        (Some((place, _)), None) => view.options.get(place).map(|(choice, _)| choice.clone()),
        _ => None,
    }
}
