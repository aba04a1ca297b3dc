//! A part that is named by what it is, with what was read of it: `red hose 900`.

use super::matching::{Match, own_weight};
use super::measured::Measured;
use super::searching::words;
use super::weighing::{Known, telling};
use crate::case::{Case, QuestionId};
use crate::terminal::words::folded;

/// A part that is named with where it was read and what: `yellow hose on the pump 1800`. Its reading is
/// the first that only the rounds of parts ask for.
pub(super) fn of_a_part(case: &Case<'_>, typed: &str) -> Option<Match> {
    let measured = Measured::of(case, typed);
    let name = [" on the ", " at the ", " alone", " reads", ":"]
        .iter()
        .find_map(|end| measured.words.split_once(end))
        .map_or(measured.words.as_str(), |(name, _)| name)
        .trim()
        .to_owned();
    let (known, said, named) = (Known::of(case), telling(&measured.words), telling(&name));
    let is_told = |(naming, reading): &(QuestionId, QuestionId)| {
        own_weight(&known, &named, *naming) > 0.0 && own_weight(&known, &said, *reading) > 0.0
    };
    let (naming, reading) = case.parts_and_readings().find(is_told)?;
    let value = measured.value_for(reading)?;
    Some(Match { id: reading, value: Some(value), part: Some((naming, name)) })
}

/// Words by which somebody tells one part of a kind from another.
const TELL_APART: [&str; 30] = [
    "yellow", "red", "blue", "black", "white", "green", "grey", "gray", "orange", "brown", "left",
    "right", "upper", "lower", "top", "bottom", "first", "second", "third", "long", "short", "old",
    "new", "thick", "thin", "front", "rear", "rubber", "metal", "middle",
];

/// A part with what it was read at, named by nothing but what it is and its colour or place: `red hose
/// 900`.
pub(super) fn told_apart_by_its_name(case: &Case<'_>, typed: &str) -> Option<Match> {
    let measured = Measured::of(case, typed);
    let said = folded(&measured.words);
    let is_none =
        |word: &&str| !["the", "my", "his", "is", "was", "at", "now", "reads"].contains(word);
    let name: Vec<&str> = words(&said).filter(is_none).collect();
    let (known, apart) = (Known::of(case), |word: &&&str| TELL_APART.contains(*word));
    let kind =
        telling(&name.iter().filter(|word| !apart(word)).copied().collect::<Vec<_>>().join(" "));
    if name.iter().filter(apart).count() == 0 || kind.is_empty() {
        return None;
    }
    let is_named = |naming: QuestionId| {
        let texts = known.questions.iter().find(|texts| texts.id == naming);
        let is_of_it = |word: &String| {
            texts.is_some_and(|texts| texts.asked.iter().any(|asked| asked.contains(word)))
        };
        kind.iter().all(is_of_it)
    };
    let (naming, reading) = case.parts_and_readings().find(|(naming, _)| is_named(*naming))?;
    let value = measured.value_for(reading)?;
    Some(Match { id: reading, value: Some(value), part: Some((naming, name.join(" "))) })
}
