//! An answer and its working as JSON.

use serde::Serialize;

use super::told::share_of_yes;
use crate::formula::{
    Checked, Kind, NoNames, Origin, Step, Summary, Value, Verdict, default_unit, show_value,
    verdict,
};
use crate::quantity::UnitExpression;

/// An answer, format 1, with the way to it if that was asked for.
#[derive(Serialize)]
struct AnswerJson {
    format: u8,
    #[serde(flatten)]
    value: ValueJson,
    #[serde(skip_serializing_if = "Option::is_none")]
    working: Option<Vec<StepJson>>,
}

#[derive(Serialize)]
#[serde(untagged)]
enum ValueJson {
    Quantity(QuantityJson),
    Truth(TruthJson),
    Other(OtherJson),
}

/// A quantity. `value`, `low` and `high` (the 95 % interval) are in `unit`, `si` is the value in
/// SI units. A time without end is null, with `never` and, where the formula says so, the place
/// at which the system stops.
#[derive(Serialize)]
struct QuantityJson {
    kind: String,
    value: f64,
    unit: Option<String>,
    low: f64,
    high: f64,
    si: f64,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    never: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    stops_at: Option<PlaceJson>,
}

/// Where a system stops.
#[derive(Serialize)]
struct PlaceJson {
    value: f64,
    unit: String,
    low: f64,
    high: f64,
}

/// A yes or no; null where its doubt leaves it open.
#[derive(Serialize)]
struct TruthJson {
    kind: String,
    value: Option<bool>,
    probability: f64,
}

/// Anything else; `unknown` is why there is no value.
#[derive(Serialize)]
struct OtherJson {
    kind: String,
    value: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unknown: Option<String>,
}

/// A value on the way: the part of the formula, or the name of a parameter that was left out;
/// `formula` is that of a function in words.
#[derive(Serialize)]
struct StepJson {
    text: String,
    #[serde(flatten)]
    value: ValueJson,
    #[serde(skip_serializing_if = "Option::is_none")]
    formula: Option<&'static str>,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    left_out: bool,
}

pub(super) fn answer(
    checked: &Checked,
    value: &Value,
    steps: Option<&[Step]>,
) -> serde_json::Result<String> {
    let mut told = value_json(value, checked.kind(), checked.unit());
    if let ValueJson::Quantity(quantity) = &mut told {
        quantity.stops_at = place(checked).filter(|_| quantity.never);
    }
    let working = steps.map(|steps| steps.iter().map(step).collect());
    serde_json::to_string(&AnswerJson { format: 1, value: told, working })
}

fn place(checked: &Checked) -> Option<PlaceJson> {
    let stop = checked.stops_at(&NoNames)?;
    let Value::Quantity(draws) = &stop.place else { return None };
    let (summary, unit) = (Summary::of(draws), default_unit(stop.kind));
    let [value, low, high] = [summary.middle, summary.low, summary.high].map(|si| unit.from_si(si));
    Some(PlaceJson { value, unit: unit.symbol, low, high })
}

fn step(step: &Step) -> StepJson {
    StepJson {
        text: step.text.clone(),
        value: value_json(&step.value, &step.kind, step.unit.as_ref()),
        formula: match step.origin {
            Origin::Call(function) => Some(function.formula),
            _ => None,
        },
        left_out: matches!(step.origin, Origin::LeftOut),
    }
}

fn value_json(value: &Value, kind: &Kind, unit: Option<&UnitExpression>) -> ValueJson {
    let name = kind_name(kind);
    match value {
        Value::Quantity(draws) => {
            let own = match kind {
                Kind::Quantity(kind) => Some(default_unit(*kind)),
                _ => None,
            };
            let unit = unit.cloned().or(own);
            let summary = Summary::of(draws);
            let shown = |si: f64| unit.as_ref().map_or(si, |unit| unit.from_si(si));
            ValueJson::Quantity(QuantityJson {
                kind: name,
                value: shown(summary.middle),
                unit: unit.as_ref().map(|unit| unit.symbol.clone()),
                low: shown(summary.low),
                high: shown(summary.high),
                si: summary.middle,
                never: super::is_never(value),
                stops_at: None,
            })
        }
        Value::Truth(draws) => {
            let value = match verdict(draws) {
                Verdict::Yes(_) => Some(true),
                Verdict::No(_) => Some(false),
                _ => None,
            };
            let probability = share_of_yes(draws);
            ValueJson::Truth(TruthJson { kind: name, value, probability })
        }
        Value::Unknown(why) => {
            let unknown = Some(why.to_string());
            ValueJson::Other(OtherJson { kind: name, value: None, unknown })
        }
        other => {
            let value = Some(show_value(other, kind, unit));
            ValueJson::Other(OtherJson { kind: name, value, unknown: None })
        }
    }
}

fn kind_name(kind: &Kind) -> String {
    match kind {
        Kind::Quantity(quantity) => quantity.name(),
        Kind::YesNo => "yes/no".to_owned(),
        other => other.with_article(),
    }
}
