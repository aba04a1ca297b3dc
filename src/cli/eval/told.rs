//! An answer and its working as text.

use crate::cli::hanging::{WIDTH, call, hang};
use crate::formula::{
    Checked, Draws, Kind, NoNames, Origin, Step, Summary, Truth, Value, show_value,
};
use crate::quantity::UnitExpression;

/// The value of a formula, with what its doubt leaves open, and where a system stops that never
/// gets there.
pub(super) fn answer(checked: &Checked, value: &Value) -> String {
    let shown = told(value, checked.kind(), checked.unit());
    match checked.stops_at(&NoNames).filter(|_| super::is_never(value)) {
        Some(stop) => {
            let place = told(&stop.place, &Kind::Quantity(stop.kind), None);
            format!("{shown}: {} {place}", stop.says)
        }
        None => shown,
    }
}

/// Every value on the way, each with how it came about.
pub(super) fn working(steps: &[Step]) -> String {
    steps.iter().map(step).collect::<Vec<_>>().join("\n")
}

fn step(step: &Step) -> String {
    let value = told(&step.value, &step.kind, step.unit.as_ref());
    match step.origin {
        Origin::Part => equation(&step.text, &value),
        Origin::LeftOut => format!("    {} = {value}, left out", step.text),
        Origin::Call(function) => {
            format!("{}\n{}", equation(&step.text, &value), hang("    ", function.formula))
        }
    }
}

/// `text = value`, broken before the sign where it is too long for a line.
fn equation(text: &str, value: &str) -> String {
    let whole = format!("{text} = {value}");
    if whole.chars().count() <= WIDTH {
        return whole;
    }
    let text = call("", "    ", text);
    format!("{text}\n{}", hang("    ", &format!("= {value}")))
}

/// A value with what its doubt leaves open.
fn told(value: &Value, kind: &Kind, unit: Option<&UnitExpression>) -> String {
    let show = |value: &Value| show_value(value, kind, unit);
    let shown = show(value);
    match value {
        Value::Unknown(why) => format!("not known: {why}"),
        Value::Quantity(draws) => {
            let summary = Summary::of(draws);
            if summary.low == summary.high {
                return shown;
            }
            let end = |si: f64| show(&Value::Quantity(Draws::Same(si)));
            format!("{shown} (19 in 20: {} to {})", end(summary.low), end(summary.high))
        }
        Value::Truth(draws) => {
            let yes = share_of_yes(draws);
            if yes == 0.0 || yes == 1.0 {
                return shown;
            }
            format!("{shown} (yes in {:.0} % of the draws)", 100.0 * yes)
        }
        _ => shown,
    }
}

/// The share of the draws that say yes.
pub(super) fn share_of_yes(draws: &Draws<Truth>) -> f64 {
    let values = draws.values();
    values.iter().filter(|&&truth| truth == Truth::Yes).count() as f64 / values.len() as f64
}
