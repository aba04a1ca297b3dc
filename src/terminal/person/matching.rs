//! Which questions words speak of that were typed at another one, the likeliest first.
//!
//! A word that few questions have weighs more than one that many have, a whole word more than a part
//! of one, and a question whose own words are nearly all there more than one that has them among
//! many others. A number with its unit says of which kind the answer is. A safety question is never
//! offered for words that it only happens to have; one whose danger a word points to comes first.

use std::collections::BTreeSet;

use super::choosing::{choice_named, choice_told};
use super::danger::dangers_hinted;
use super::measured::Measured;
use super::weighing::{Known, Texts, telling};
use crate::case::{Case, Now, QuestionId};
use crate::terminal::words::is_code;

/// The most questions that are offered for words typed at another one (limit of ours: a list to
/// take in at a glance).
const MOST_OFFERED: usize = 3;

/// A single word that more questions have tells none of them (limit of ours).
const MOST_OF_A_WORD: usize = 6;

/// So much of the weight of what was said has to be in a question (`estimate`).
const LEAST_SHARE: f64 = 0.5;

/// So much of it, of the words that are known at all, has to stand for a danger (`estimate`: one of
/// two that tell something, as `the room smells`).
const LEAST_OF_A_DANGER: f64 = 0.25;

/// Where more than a word was said, so many of them have to be in a question (limit of ours).
const FEWEST_WORDS: usize = 2;

/// What weighs less than so much of the best is not offered beside it (`estimate`).
const BESIDE_THE_BEST: f64 = 0.6;

/// The same beside a safety question, for another one (`estimate`).
const BESIDE_A_DANGER: f64 = 0.35;

/// A safety question that weighs less than so much of the best other one is about something else
/// (`estimate`).
const AS_GOOD: f64 = 0.9;

/// How much more a question weighs that comes soon, or whose kind fits (`estimate`).
const SOON: f64 = 1.25;
const FITS: f64 = 1.5;

/// How many of the best next checks come soon (limit of ours).
const CHECKS: usize = 3;

/// A question that words may belong to, with the value that they give it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Match {
    pub id: QuestionId,
    pub value: Option<String>,
}

/// The questions that come soon: those of the tree at hand, and of the best next checks, as far as
/// they have no answer.
fn soon(case: &Case<'_>) -> Vec<QuestionId> {
    let (Now::Ask { place, .. } | Now::Do { place, .. } | Now::Act { place, .. }) = case.now()
    else {
        return Vec::new();
    };
    let own = case.handbook().tree(place.tree).questions();
    let checks = case.checks_left().into_iter().take(CHECKS);
    let all: BTreeSet<QuestionId> = own.chain(checks.flat_map(|check| check.questions)).collect();
    all.into_iter().filter(|id| case.latest_answer(*id).is_none()).collect()
}

/// The questions that words typed at another one may belong to: those of a danger that a word points
/// to, those an answer of which is named, then the others, the likeliest first.
pub(super) fn likely(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> Vec<Match> {
    let words = Measured::of(case, typed).words_beside_a_measure(typed);
    let told = |id| Match { id, value: choice_told(case, id, &words) };
    let dangerous = |id| Match { id, value: case.dangerous_choice(id).map(str::to_owned) };
    let dangers = dangers_hinted(case, asked, typed).into_iter().map(dangerous);
    let named = naming(case, asked, typed).into_iter().map(told);
    let others = by_words(case, asked, typed).into_iter().map(|other| {
        let value = other.value.or_else(|| told(other.id).value);
        Match { id: other.id, value }
    });
    let mut found: Vec<Match> = dangers.chain(named).chain(others).collect();
    let mut seen = BTreeSet::new();
    found.retain(|found| seen.insert(found.id));
    found.truncate(MOST_OFFERED);
    found
}

/// The questions an answer of which is named by a code of letters and figures: `R-290`, `CO2`.
fn naming(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> Vec<QuestionId> {
    let has_code = typed.split_whitespace().any(is_code);
    let is_named = |id: &QuestionId| {
        let named = choice_named(&case.question_view(*id), typed);
        named.is_some_and(|choice| !matches!(choice.as_str(), "yes" | "no"))
    };
    let others = case.question_ids().filter(|id| has_code && Some(*id) != asked);
    let found: Vec<QuestionId> = others.filter(is_named).collect();
    if found.len() <= MOST_OFFERED { found } else { Vec::new() }
}

/// The questions whose words hold what was typed, the likeliest first.
fn by_words(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> Vec<Match> {
    let measured = Measured::of(case, typed);
    let said = telling(&measured.words);
    if said.is_empty() {
        return by_kind(case, asked, &measured);
    }
    let known = Known::of(case);
    let own = asked.map_or(0.0, |id| own_weight(&known, &said, id));
    let others = known.questions.iter().filter(|texts| Some(texts.id) != asked);
    let soon = soon(case);
    let heard = |texts| Heard::of((&known, &soon), &measured, &said, texts);
    let mut found: Vec<Heard<'_>> = others.filter_map(heard).collect();
    let best = keep_the_best(&mut found);
    // What speaks of the question at hand is no word for another one.
    if own > best {
        return Vec::new();
    }
    found.sort_by(|one, other| other.weight.total_cmp(&one.weight));
    let offered = found.into_iter().take(MOST_OFFERED).map(|heard| heard.texts.id);
    offered.map(|id| Match { id, value: measured.value_for(id) }).collect()
}

/// Leaves out what is not meant beside the best one, and gives its weight. Where a safety question
/// leads, others that have something of the words are offered with it: the right danger is worth a
/// longer list.
fn keep_the_best(found: &mut Vec<Heard<'_>>) -> f64 {
    let best = |is_danger: bool| {
        let sure = found.iter().filter(|heard| heard.is_sure && heard.texts.is_danger == is_danger);
        sure.map(|heard| heard.weight).fold(0.0, f64::max)
    };
    let (danger, other) = (best(true), best(false));
    let leads = f64::max(danger, other);
    found.retain(|heard| match heard.texts.is_danger {
        true if danger > 0.0 && danger >= other => heard.weight >= BESIDE_A_DANGER * leads,
        true => heard.is_sure && heard.weight >= AS_GOOD * other,
        false => heard.weight >= BESIDE_THE_BEST * leads,
    });
    leads
}

/// Questions of a search in the order in which they are probably meant.
pub(super) fn likeliest_first(case: &Case<'_>, ids: &mut [QuestionId], typed: &str) {
    let (known, soon) = (Known::of(case), soon(case));
    let said = telling(typed);
    let weight = |id: QuestionId| {
        let weight = own_weight(&known, &said, id);
        if soon.contains(&id) { SOON * weight } else { weight }
    };
    ids.sort_by(|one, other| weight(*other).total_cmp(&weight(*one)));
}

/// Whether words speak of the question that was asked, and tell none of its answers.
pub(super) fn is_of_itself(case: &Case<'_>, asked: QuestionId, typed: &str) -> bool {
    let said = telling(typed);
    if said.is_empty() || !likely(case, Some(asked), typed).is_empty() {
        return false;
    }
    let known = Known::of(case);
    let texts = known.questions.iter().find(|texts| texts.id == asked);
    texts.is_some_and(|texts| said.iter().all(|word| texts.asked.iter().any(|t| t.contains(word))))
}

fn own_weight(known: &Known, said: &BTreeSet<String>, id: QuestionId) -> f64 {
    let texts = known.questions.iter().find(|texts| texts.id == id);
    texts.map_or(0.0, |texts| known.weigh(said, texts).weight())
}

/// A question that has something of what was said.
struct Heard<'a> {
    texts: &'a Texts,
    weight: f64,
    /// Whether it has enough of it to be offered by itself.
    is_sure: bool,
}

impl<'a> Heard<'a> {
    fn of(
        (known, soon): (&Known, &[QuestionId]),
        measured: &Measured,
        said: &BTreeSet<String>,
        texts: &'a Texts,
    ) -> Option<Self> {
        let weighed = known.weigh(said, texts);
        let soon = if soon.contains(&texts.id) { SOON } else { 1.0 };
        let weight = soon * weighed.weight();
        let heard = |weight, is_sure| Some(Self { texts, weight, is_sure });
        if texts.is_danger {
            return match weighed.whole {
                _ if weighed.dangerous >= LEAST_OF_A_DANGER => heard(FITS * weight, true),
                0 => None,
                1 => heard(weight, false),
                _ => heard(weight, weighed.share >= LEAST_SHARE),
            };
        }
        let fits = measured.fits(texts.id);
        let is_told_apart = || {
            let word = said.first().filter(|_| said.len() == 1);
            word.is_none_or(|word| known.many.get(word).is_some_and(|many| *many <= MOST_OF_A_WORD))
        };
        let is_enough = weighed.share >= LEAST_SHARE
            && weighed.whole > 0
            && weighed.in_part >= said.len().min(FEWEST_WORDS);
        match fits {
            _ if !is_enough => None,
            Some(true) => heard(FITS * weight, true),
            Some(false) if measured.has_unit => None,
            _ if is_told_apart() => heard(weight, true),
            _ => None,
        }
    }
}

/// A number with its unit alone: the questions that come soon and take it, if they are few.
fn by_kind(case: &Case<'_>, asked: Option<QuestionId>, measured: &Measured) -> Vec<Match> {
    // Beside a step or a wait a bare value is no answer: what it was read at nobody has said.
    if !measured.has_unit || asked.is_none() {
        return Vec::new();
    }
    let fits = |id: &QuestionId| measured.fits(*id) == Some(true) && Some(*id) != asked;
    let found: Vec<QuestionId> = soon(case).into_iter().filter(fits).collect();
    let few = if found.len() <= MOST_OFFERED { found } else { Vec::new() };
    few.into_iter().map(|id| Match { id, value: measured.value_for(id) }).collect()
}
