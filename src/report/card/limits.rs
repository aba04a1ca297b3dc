//! The limits that a tree's branches hang on, in both units.

use crate::formula::{Checked, Symbol};
use crate::handbook::{Entry, Handbook, Next, Observes, Tree};
use crate::quantity::{QuantityKind, UnitExpression, find_unit, show};
use crate::text::spoken;

/// The longest formula that a card shows (characters; an estimate: three of its rows).
const LONGEST: usize = 170;

/// For each finding and formula that a branch needs, its name and what it is, in the order in
/// which the steps need them.
pub(super) fn limits(handbook: &Handbook, tree: &Tree) -> Vec<(String, String)> {
    let mut open: Vec<Symbol> = Vec::new();
    for step in &tree.steps {
        if let Next::ByRules { rules, .. } = &step.next {
            open.extend(rules.iter().flat_map(|rule| needed(&rule.condition)));
        }
    }
    let mut seen: Vec<Symbol> = Vec::new();
    let mut limits: Vec<(String, String)> = Vec::new();
    let mut at = 0;
    while let Some(&symbol) = open.get(at) {
        at += 1;
        if seen.contains(&symbol) {
            continue;
        }
        seen.push(symbol);
        let Some(is) = meant(handbook, symbol) else { continue };
        open.extend(needed(is));
        let text = said(is.text());
        if text.chars().count() > LONGEST || asks_the_case(is.text()) {
            continue;
        }
        let name = spoken(handbook.symbol_name(symbol));
        // What two names mean alike is said once.
        match limits.iter_mut().find(|(_, known)| *known == text) {
            Some((names, _)) => names.push_str(&format!(", {name}")),
            None => limits.push((name, text)),
        }
    }
    limits
}

/// Functions that ask the case what it was told so far, which nobody works out on paper: the name of the
/// formula says it.
const OF_THE_CASE: [&str; 4] = ["count(", "previous(", "first(", "before("];

/// Whether a formula hangs on what was answered rather than on what was read.
fn asks_the_case(formula: &str) -> bool {
    OF_THE_CASE.iter().any(|function| formula.contains(function))
}

fn needed(formula: &Checked) -> Vec<Symbol> {
    formula.uses().iter().map(|used| used.symbol).collect()
}

/// What a finding or a formula is; nothing for a question.
fn meant(handbook: &Handbook, symbol: Symbol) -> Option<&Checked> {
    match handbook.entry(symbol) {
        Entry::Question(_) => None,
        Entry::Formula(id) => Some(&handbook.formula(id).is),
        Entry::Finding(id) => match &handbook.finding(id).observes {
            Observes::When(condition) => Some(condition),
            Observes::Of(_) => None,
        },
    }
}

/// A formula in words of a card: names as they are spoken, pressures in both units.
pub(super) fn said(formula: &str) -> String {
    let text = formula.split_whitespace().collect::<Vec<_>>().join(" ");
    spoken(&in_both_units(&text))
}

/// The text with every pressure in micron given in Pa as well, and the other way round.
///
/// Only a number directly before its unit is taken, also with `/min` behind it.
pub(super) fn in_both_units(text: &str) -> String {
    let mut both = String::new();
    let mut rest = text;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit()) {
        let before = rest[..start].chars().next_back();
        let end = rest[start..]
            .find(|c: char| !c.is_ascii_digit() && c != '.')
            .map_or(rest.len(), |length| start + length);
        both.push_str(&rest[..end]);
        let number = rest[start..end].parse::<f64>().ok();
        rest = &rest[end..];
        let is_name = before.is_some_and(|c| c.is_alphanumeric() || c == '_');
        if let (Some(number), false) = (number, is_name)
            && let Some((length, other)) = other_unit(number, rest)
        {
            both.push_str(&rest[..length]);
            both.push_str(&format!(" ({other})"));
            rest = &rest[length..];
        }
    }
    both + rest
}

/// How far the unit behind a number reaches, and the same value in the other unit.
fn other_unit(number: f64, behind: &str) -> Option<(usize, String)> {
    let word = behind.strip_prefix(' ')?;
    let length = word.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(word.len());
    let (unit, after) = word.split_at(length);
    let (from, to) = match unit {
        "micron" => (find_unit("micron")?, find_unit("Pa")?),
        "Pa" => (find_unit("Pa")?, find_unit("micron")?),
        _ => return None,
    };
    let rate = if after.starts_with("/min") { "/min" } else { "" };
    // A pressure times or over something else has no such twin.
    let is_whole = !after[rate.len()..].starts_with(['/', '^', '*'])
        && !after[rate.len()..].starts_with(" m3");
    let shown = shown(number * from.factor, &to.into());
    is_whole.then(|| (1 + length + rate.len(), format!("{shown}{rate}")))
}

fn shown(pascals: f64, unit: &UnitExpression) -> String {
    // Two digits are as many as a limit in the other unit deserves.
    let half_width = pascals.abs() * 0.05;
    let text = show(pascals, Some(half_width), unit, QuantityKind::PRESSURE);
    match text.split_once(" +- ") {
        Some((value, rest)) => {
            let unit = rest.split_once(' ').map_or("", |(_, unit)| unit);
            format!("{value} {unit}")
        }
        None => text,
    }
}

/// A range of a setting in its own unit, and in the other one where it is a pressure.
pub(super) fn range(low: f64, high: f64, unit: &UnitExpression, kind: QuantityKind) -> String {
    let low = show(low, None, unit, kind);
    let high = show(high, None, unit, kind);
    in_both_units(&format!("{low} to {high}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_only_the_case_knows_is_not_worked_out_on_paper() {
        assert!(asks_the_case("count(hold_first, hold_last) > 1"));
        assert!(asks_the_case("rise_over(previous(hold_readings), 10 min)"));
        assert!(!asks_the_case("hold_rise > 0.3 * hold_rate_limit"));
    }

    #[test]
    fn pressures_stand_in_both_units() {
        for (text, both) in [
            ("p > 500 micron", "p > 500 micron (67 Pa)"),
            ("p > 5 Pa and q < 2", "p > 5 Pa (37.5 micron) and q < 2"),
            ("rate < 10 micron/min", "rate < 10 micron/min (1.33 Pa/min)"),
            ("load < 2 Pa m3/s", "load < 2 Pa m3/s"),
            ("oil_2 micron", "oil_2 micron"),
            ("1.5 * target", "1.5 * target"),
            ("100 micron + 20 micron", "100 micron (13.3 Pa) + 20 micron (2.67 Pa)"),
        ] {
            assert_eq!(in_both_units(text), both);
        }
    }
}
