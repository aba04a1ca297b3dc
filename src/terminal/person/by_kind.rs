//! The questions that take a value, by its kind alone.

use std::collections::BTreeSet;

use super::matching::{MOST_OFFERED, Match, own_weight, soon};
use super::measured::Measured;
use super::times::{Time, apart_in_time};
use super::weighing::Known;
use crate::case::{Case, QuestionId};

/// The most questions that are offered for a value alone beside a step or a wait: what comes next, and
/// what may come in its place (limit of ours).
const MOST_BESIDE_A_STEP: usize = 2;

/// A number with its unit, of whose words no question has enough: the questions that take it, those
/// first that come soon on this way, then those that have most of the words.
pub(super) fn by_kind(
    case: &Case<'_>,
    asked: Option<QuestionId>,
    measured: &Measured,
    said: &BTreeSet<String>,
    told: Option<Time>,
) -> Vec<Match> {
    // Beside a step or a wait nobody has said what it was read at: the questions that come next there.
    if asked.is_none() {
        let next =
            case.questions_coming().into_iter().filter(|id| measured.fits(*id) == Some(true));
        return next
            .take(MOST_BESIDE_A_STEP)
            .map(|id| Match::new(id, measured.value_for(id)))
            .collect();
    }
    // A number alone says nothing of its kind; at a list it can be nothing but a value.
    let is_list = asked.is_some_and(|id| !case.question_view(id).options.is_empty());
    match measured.has_unit || is_list && said.is_empty() {
        true => fitting(case, asked, measured, said, told),
        false => Vec::new(),
    }
}

/// What a line tells beside an answer: a value alone, offered to the questions on this way that take
/// it.
pub(super) fn by_value(case: &Case<'_>, asked: Option<QuestionId>, value: &str) -> Vec<Match> {
    let measured = Measured::of(case, value);
    fitting(case, asked, &measured, &BTreeSet::new(), None)
}

fn fitting(
    case: &Case<'_>,
    asked: Option<QuestionId>,
    measured: &Measured,
    said: &BTreeSet<String>,
    told: Option<Time>,
) -> Vec<Match> {
    let (known, soon) = (Known::of(case), soon(case));
    // Of two readings that are told in one line, one may be what is asked here.
    let is_its_time = |id: &QuestionId| told.is_some() && apart_in_time(case, told, *id) == 0;
    let fits = |id: &QuestionId| {
        measured.fits(*id) == Some(true) && (Some(*id) != asked || is_its_time(id))
    };
    let is_meant = |id: &QuestionId| soon.contains(id) || own_weight(&known, said, *id) > 0.0;
    let mut found: Vec<QuestionId> = case.question_ids().filter(fits).collect();
    if found.len() > MOST_OFFERED {
        found.retain(is_meant);
    }
    let place = |id: &QuestionId| soon.iter().position(|soon| soon == id).unwrap_or(soon.len());
    found.sort_by(|one, other| {
        let weight = |id| own_weight(&known, said, id);
        apart_in_time(case, told, *one)
            .cmp(&apart_in_time(case, told, *other))
            .then(weight(*other).total_cmp(&weight(*one)))
            .then(place(one).cmp(&place(other)))
    });
    found.truncate(MOST_OFFERED);
    found.into_iter().map(|id| Match::new(id, measured.value_for(id))).collect()
}
