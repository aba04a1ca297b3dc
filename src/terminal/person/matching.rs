//! Which questions words speak of that were typed at another one, the likeliest first.
//!
//! A word that few questions have weighs more than one that many have, a whole word more than a part
//! of one, and a question whose own words are nearly all there more than one that has them among
//! many others. A number with its unit says of which kind the answer is. A safety question is never
//! offered for words that it only happens to have; one whose danger a word points to comes first.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::answer_told::{FEWEST_WORDS, answer_told, called_in_full, readings_told, stands_for};
use super::by_kind::by_kind;
use super::choosing::{choice_named, is_left_open};
use super::danger::dangers_hinted;
use super::facts::parts;
use super::measured::Measured;
use super::paired::{tells_a_span, two_readings};
use super::part_told::{of_a_part, told_apart_by_its_name};
use super::times::{apart_in_time, time_told, without_days};
use super::weighing::{Known, Texts, telling};
use crate::case::{Case, Now, QuestionId};
use crate::terminal::words::{is_code, is_list_of_readings};

/// The most questions that are offered for words typed at another one (limit of ours: a list to
/// take in at a glance).
pub(super) const MOST_OFFERED: usize = 3;

/// A single word that more questions have tells none of them (limit of ours).
const MOST_OF_A_WORD: usize = 6;

/// So much of the weight of what was said has to be in a question (`estimate`).
const LEAST_SHARE: f64 = 0.5;

/// So much of it, of the words that are known at all, has to stand for a danger (`estimate`: one of
/// two that tell something, as `the room smells`).
const LEAST_OF_A_DANGER: f64 = 0.25;

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
    /// What names the part that it was read of, with the question for it.
    pub part: Option<(QuestionId, String)>,
}

impl Match {
    pub(super) fn new(id: QuestionId, value: Option<String>) -> Self {
        Self { id, value, part: None }
    }
}

/// The value of a line that is not part of the answer that its words give: the 2000 of `won't go below
/// 2000`.
pub(super) fn left_of(case: &Case<'_>, found: &Match, typed: &str) -> Option<String> {
    let is_listed = !case.question_view(found.id).options.is_empty();
    let is_code = || typed.split_whitespace().any(is_code);
    Measured::of(case, typed).text().filter(|_| is_listed && !is_code())
}

/// The questions that come soon: those of the tree at hand, and of the best next checks, as far as
/// they have no answer.
pub(super) fn soon(case: &Case<'_>) -> Vec<QuestionId> {
    let (Now::Ask { place, .. } | Now::Do { place, .. } | Now::Act { place, .. }) = case.now()
    else {
        return Vec::new();
    };
    let own = case.handbook().tree(place.tree).questions();
    let begun = case.handbook().tree(case.tree()).questions();
    let checks = case.checks_left().into_iter().take(CHECKS);
    let mut all: Vec<QuestionId> = Vec::new();
    for id in own.chain(begun).chain(checks.flat_map(|check| check.questions)) {
        if case.latest_answer(id).is_none() && !all.contains(&id) {
            all.push(id);
        }
    }
    all
}

/// The questions that words typed at another one may belong to: those of a danger that a word points
/// to, those an answer of which is named, then the others, the likeliest first.
pub(super) fn likely(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> Vec<Match> {
    let words = Measured::of(case, typed).words_beside_a_measure(typed);
    let told = |id| Match::new(id, answer_told(case, id, typed, &words));
    let dangerous = |id| {
        let choice = case.dangerous_choice(id).filter(|_| !is_left_open(case, id, typed));
        Match::new(id, choice.map(str::to_owned))
    };
    let dangers = dangers_hinted(case, asked, typed).into_iter().map(dangerous);
    let named = naming(case, asked, typed).into_iter().map(told);
    let told_of = time_told(typed);
    let mut others = by_words(case, asked, typed);
    others.sort_by_key(|other| apart_in_time(case, told_of, other.id));
    // What was read before is no answer to what is read after.
    let apart = |other: &Match| apart_in_time(case, told_of, other.id);
    let nearest = others.first().map_or(0, apart);
    others.retain(|other| apart(other) <= nearest.max(1));
    let others = others.into_iter().map(|other| {
        let value = other.value.or_else(|| told(other.id).value);
        Match::new(other.id, value)
    });
    let mut found: Vec<Match> = match told_apart_by_its_name(case, typed) {
        Some(part) => dangers.chain([part]).collect(),
        None => dangers.chain(named).chain(others).collect(),
    };
    let mut seen = BTreeSet::new();
    found.retain(|found| seen.insert(found.id));
    if found.is_empty() {
        found.extend(of_a_part(case, typed));
    }
    found.truncate(MOST_OFFERED);
    found
}

/// The questions an answer of which is named outright: by a code of letters and figures as in `R-290`,
/// by all words that the handbook takes for it, as in `cores are in`, or by a list of readings.
fn naming(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> Vec<QuestionId> {
    let has_code = typed.split_whitespace().any(is_code);
    let has_value = !has_code && Measured::of(case, typed).text().is_some();
    let has_list = is_list_of_readings(typed)
        || two_readings(typed).is_some()
        || tells_a_span(typed)
        || typed.chars().any(|c| c.is_ascii_digit()) && parts(typed).len() > FEWEST_WORDS;
    let is_named = |id: &QuestionId| {
        let view = case.question_view(*id);
        if view.takes_readings {
            return has_list && readings_told(case, *id, typed).is_some();
        }
        // What a safety rule judges is known by its own words of danger.
        let is_judged = case.handbook().question(*id).hazard.is_some();
        let takes_a_value = view.options.is_empty();
        let in_words = || {
            if takes_a_value {
                return answer_told(case, *id, typed, typed).is_some();
            }
            view.in_words.iter().any(|(known, _)| stands_for(known, typed))
        };
        // What was measured is told of a reading, and names no choice: `pump alone 900 micron`.
        if has_value && !view.options.is_empty() {
            return false;
        }
        let by_code = || {
            let choice = choice_named(&view, typed);
            has_code && choice.is_some_and(|choice| !matches!(choice.as_str(), "yes" | "no"))
        };
        !is_judged && (in_words() || called_in_full(case, *id, typed).is_some()) || by_code()
    };
    let others = case.question_ids().filter(|id| Some(*id) != asked);
    let mut found: Vec<QuestionId> = others.filter(is_named).collect();
    let (coming, told) = (case.questions_coming(), time_told(typed));
    let place = |id: &QuestionId| coming.iter().position(|next| next == id);
    // A row of readings is most likely meant for the question that most hangs on.
    let hangs_on = |id: &QuestionId| match has_list && case.question_view(*id).takes_readings {
        true => Reverse(findings_under(case, *id)),
        false => Reverse(usize::MAX),
    };
    let soon = |id: &QuestionId| place(id).unwrap_or(coming.len());
    found.sort_by_key(|id| (apart_in_time(case, told, *id), hangs_on(id), soon(id)));
    if found.len() <= MOST_OFFERED { found } else { Vec::new() }
}

/// How many findings use a question.
fn findings_under(case: &Case<'_>, id: QuestionId) -> usize {
    let findings = case.handbook().findings().iter();
    findings.filter(|finding| case.handbook().questions_under(finding.symbol).contains(&id)).count()
}

/// The questions whose words hold what was typed, the likeliest first.
fn by_words(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> Vec<Match> {
    let measured = Measured::of(case, typed);
    let said = match measured.has_unit {
        true => telling(&without_days(&measured.words)),
        false => telling(&measured.words),
    };
    if said.is_empty() {
        return by_kind(case, asked, &measured, &said, time_told(typed));
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
    if found.is_empty() {
        return by_kind(case, asked, &measured, &said, time_told(typed));
    }
    found.sort_by(|one, other| other.weight.total_cmp(&one.weight));
    let offered = found.into_iter().take(MOST_OFFERED).map(|heard| heard.texts.id);
    offered.map(|id| Match::new(id, measured.value_for(id))).collect()
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

pub(super) fn own_weight(known: &Known, said: &BTreeSet<String>, id: QuestionId) -> f64 {
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
