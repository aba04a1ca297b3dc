//! Formulas and the values on the way to them.

use super::{mark, percent};
use crate::case::Case;
use crate::formula::{Checked, Facts, Kind, Origin, Summary, Value, Verdict, show_value, verdict};
use crate::handbook::FormulaId;
use crate::quantity::UnitExpression;
use crate::text::Line;

/// A formula with every value on the way.
pub(super) fn of_formula(case: &Case<'_>, id: FormulaId) -> Vec<Line> {
    let formula = case.handbook().formula(id);
    let sheet = case.worksheet();
    let value = sheet.latest(formula.symbol);
    let shown = told(&value, formula.is.kind(), formula.unit.as_ref());
    let text = formula.is.text().split_whitespace().collect::<Vec<_>>().join(" ");
    let mut lines = vec![
        Line::strong(format!("`{}`: {shown}", formula.id)),
        Line::plain(format!("- It is: {text} ({})", mark(case, &formula.basis, "is"))),
    ];
    lines.extend(working(case, &formula.is));
    lines
}

/// Every value on the way to a formula's, innermost first; of one part alone its own.
pub(super) fn working(case: &Case<'_>, formula: &Checked) -> Vec<Line> {
    let sheet = case.worksheet();
    let steps = formula.working(&sheet);
    let mut said: Vec<String> = Vec::new();
    for step in steps {
        // What is not known is told once, at the answer that is missing.
        if matches!(step.value, Value::Unknown(_)) && case.handbook().symbol(&step.text).is_none() {
            continue;
        }
        let value = told(&step.value, &step.kind, step.unit.as_ref());
        let text = match step.origin {
            Origin::LeftOut => format!("    {} = {value}, left out", step.text),
            Origin::Part | Origin::Call(_) => format!("    {} = {value}", step.text),
        };
        if !said.contains(&text) {
            said.push(text);
        }
    }
    said.into_iter().map(Line::plain).collect()
}

/// A value with what its doubt leaves open.
pub(in crate::report) fn told(value: &Value, kind: &Kind, unit: Option<&UnitExpression>) -> String {
    let show = |value: &Value| show_value(value, kind, unit);
    match value {
        Value::Unknown(why) => format!("not known: {why}"),
        Value::Quantity(draws) => {
            let summary = Summary::of(draws);
            if summary.low == summary.high {
                return show(value);
            }
            let end = |si: f64| show(&Value::Quantity(crate::formula::Draws::Same(si)));
            let (low, high) = (end(summary.low), end(summary.high));
            format!("{} (19 in 20: {low} to {high})", show(value))
        }
        Value::Truth(draws) => match verdict(draws) {
            Verdict::TooClose(share) => {
                format!("{} (yes in {} of the draws)", show(value), percent(share))
            }
            _ => show(value),
        },
        _ => show(value),
    }
}
