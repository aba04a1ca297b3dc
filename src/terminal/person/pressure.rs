//! A pressure above that of the air, told where none belongs: the system may be charged, or stand under
//! nitrogen.

use crate::case::{Case, Now, QuestionId};
use crate::quantity::{Bound, Expected, QuantityKind, parse_unit, read_typed};

/// The most words that a number with its unit takes: `40 psi gauge` (limit of ours).
const LONGEST: usize = 3;

/// What is more than this, in Pa, is more than the air has anywhere (limit of ours, above the highest
/// pressure of the weather).
const ABOVE_AIR: f64 = 110_000.0;

/// What a gauge of gauge pressure shows above its zero, in Pa, and is no doubt of its needle (limit of
/// ours).
const ABOVE_ZERO: f64 = 10_000.0;

/// Whether words hold a pressure above that of the air, and neither the question at hand nor another
/// one of this way takes it, as those of a test with nitrogen do.
pub(super) fn is_pressure_told(case: &Case<'_>, asked: Option<QuestionId>, typed: &str) -> bool {
    let takes = |id: QuestionId, told: &str| {
        let view = case.question_view(id);
        let is_measured = case.takes_a_quantity(id) || view.takes_readings;
        is_measured && case.read(id, told).is_ok_and(|read| read.reply.is_known())
    };
    if asked.is_some_and(|id| takes(id, typed)) {
        return false;
    }
    let Some(told) = above_air(typed) else { return false };
    !of_this_way(case).into_iter().chain(asked).any(|id| takes(id, &told))
}

/// The questions of the trees at hand.
fn of_this_way(case: &Case<'_>) -> Vec<QuestionId> {
    let begun = case.handbook().tree(case.tree()).questions();
    let (Now::Ask { place, .. } | Now::Do { place, .. } | Now::Act { place, .. }) = case.now()
    else {
        return begun.collect();
    };
    begun.chain(case.handbook().tree(place.tree).questions()).collect()
}

/// The first pressure of a line that is above that of the air, with its unit as it was typed.
fn above_air(typed: &str) -> Option<String> {
    let tokens: Vec<&str> = typed.split_whitespace().collect();
    let begins = |at: &usize| tokens[*at].starts_with(|c: char| c.is_ascii_digit());
    (0..tokens.len()).filter(begins).find_map(|from| {
        let longest = (from + LONGEST).min(tokens.len());
        (from + 1..=longest).rev().find_map(|until| {
            let told = tokens[from..until].join(" ");
            let told = told.trim_end_matches([',', '.', ';', ':', '!', '?']).to_owned();
            let has_unit = told.contains(char::is_alphabetic);
            (has_unit && is_above_air(&told)).then_some(told)
        })
    })
}

/// Whether a number with its unit is a pressure above that of the air. A bare psi is what a manifold
/// shows, and counts from the air.
fn is_above_air(told: &str) -> bool {
    let folded = told.to_lowercase();
    let bare_psi = folded.strip_suffix("psi").map(|number| format!("{number}psig"));
    let gauge = bare_psi.as_deref().unwrap_or(told);
    more_than(ABOVE_ZERO, gauge, QuantityKind::GAUGE_PRESSURE, "barg")
        && (bare_psi.is_some() || is_of_a_gauge(&folded))
        || more_than(ABOVE_AIR, told, QuantityKind::PRESSURE, "micron")
}

/// Whether a unit says that it counts from the air.
fn is_of_a_gauge(folded: &str) -> bool {
    folded.ends_with('g') && !folded.ends_with("hg")
        || folded.ends_with("(g)")
        || folded.ends_with("gauge")
}

fn more_than(least: f64, told: &str, kind: QuantityKind, unit: &str) -> bool {
    let Ok(unit) = parse_unit(unit) else { return false };
    let typed = read_typed(told, &Expected::new(kind, unit));
    typed.is_ok_and(|typed| typed.bound != Bound::Under && typed.value > least)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pressure_above_the_air_is_known_by_its_number_and_unit() {
        for typed in [
            "3 bar",
            "3 bars",
            "5 barg",
            "40 psi",
            "the gauge shows 3 bar",
            "40psi!",
            "5 bar gauge",
        ] {
            assert!(above_air(typed).is_some(), "{typed}");
        }
        for typed in ["0.3 bar", "1 bar", "1013 mbar", "3", "35 micron", "760 torr"] {
            assert_eq!(above_air(typed), None, "{typed}");
        }
    }
}
