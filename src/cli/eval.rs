//! `dryhold eval`: a formula with units from the command line.

use anyhow::Result;
use serde::Serialize;

use super::arguments::EvalArguments;
use super::exit::ExitStatus;
use super::session::Session;
use crate::diagnostic::{Look, render};
use crate::formula::{
    Checked, Draws, Kind, NoNames, Summary, Truth, Value, Verdict, check, default_unit, evaluate,
    parse, verdict,
};
use crate::quantity::UnitExpression;
use crate::source::{Sources, Span};

pub(super) fn run(session: &mut Session<'_>, arguments: &EvalArguments) -> Result<ExitStatus> {
    let mut sources = Sources::default();
    let id = sources.add("<formula>", arguments.formula.as_str());
    let place = |range: std::ops::Range<usize>| Span::new(id, range.start, range.end);
    let syntax = parse(&arguments.formula, &place);
    let checked = match syntax.and_then(|syntax| check(&syntax, &NoNames, "eval")) {
        Ok(checked) => checked,
        Err(faults) => {
            let look = Look { colour: session.is_talk_coloured() };
            session.say(render(&faults, &sources, look).trim_end())?;
            return Ok(ExitStatus::Unusable);
        }
    };
    let value = evaluate(&checked, &NoNames);
    if arguments.json {
        session.result(&value_json(&checked, &value)?)?;
    }
    match value {
        Value::Unknown(why) => {
            session.say(&format!("dryhold: {why}"))?;
            Ok(ExitStatus::Unusable)
        }
        value => {
            if !arguments.json {
                session.result(&value_text(&checked, &value))?;
            }
            Ok(ExitStatus::Settled)
        }
    }
}

/// The value, with what its doubt leaves open.
fn value_text(checked: &Checked, value: &Value) -> String {
    let shown = checked.show(value, &NoNames);
    match value {
        Value::Quantity(draws) => {
            let summary = Summary::of(draws);
            if summary.low == summary.high {
                return shown;
            }
            let end = |si: f64| checked.show(&Value::Quantity(Draws::Same(si)), &NoNames);
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

/// A quantity as JSON, format 1. `value`, `low` and `high` (the 95 % interval) are in `unit`, `si`
/// is the value in SI units. A time without end is null, with `never`.
#[derive(Serialize)]
struct QuantityJson {
    format: u8,
    kind: String,
    value: f64,
    unit: Option<String>,
    low: f64,
    high: f64,
    si: f64,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    never: bool,
}

/// A yes or no as JSON, format 1; null where its doubt leaves it open.
#[derive(Serialize)]
struct TruthJson {
    format: u8,
    kind: String,
    value: Option<bool>,
    probability: f64,
}

/// Anything else as JSON, format 1; `unknown` is why there is no value.
#[derive(Serialize)]
struct OtherJson {
    format: u8,
    kind: String,
    value: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unknown: Option<String>,
}

fn value_json(checked: &Checked, value: &Value) -> serde_json::Result<String> {
    let (format, kind) = (1, kind_name(checked.kind()));
    match value {
        Value::Quantity(draws) => {
            let unit = unit_of(checked);
            let summary = Summary::of(draws);
            let shown = |si: f64| unit.as_ref().map_or(si, |unit| unit.from_si(si));
            serde_json::to_string(&QuantityJson {
                format,
                kind,
                value: shown(summary.middle),
                unit: unit.as_ref().map(|unit| unit.symbol.clone()),
                low: shown(summary.low),
                high: shown(summary.high),
                si: summary.middle,
                never: summary.middle.is_infinite(),
            })
        }
        Value::Truth(draws) => {
            let value = match verdict(draws) {
                Verdict::Yes(_) => Some(true),
                Verdict::No(_) => Some(false),
                _ => None,
            };
            let probability = share_of_yes(draws);
            serde_json::to_string(&TruthJson { format, kind, value, probability })
        }
        Value::Unknown(why) => {
            let unknown = Some(why.to_string());
            serde_json::to_string(&OtherJson { format, kind, value: None, unknown })
        }
        other => {
            let value = Some(checked.show(other, &NoNames));
            serde_json::to_string(&OtherJson { format, kind, value, unknown: None })
        }
    }
}

fn share_of_yes(draws: &Draws<Truth>) -> f64 {
    let values = draws.values();
    values.iter().filter(|&&truth| truth == Truth::Yes).count() as f64 / values.len() as f64
}

fn unit_of(checked: &Checked) -> Option<UnitExpression> {
    checked.unit().cloned().or_else(|| match checked.kind() {
        Kind::Quantity(kind) => Some(default_unit(*kind)),
        _ => None,
    })
}

fn kind_name(kind: &Kind) -> String {
    match kind {
        Kind::Quantity(quantity) => quantity.name(),
        Kind::YesNo => "yes/no".to_owned(),
        other => other.with_article(),
    }
}
