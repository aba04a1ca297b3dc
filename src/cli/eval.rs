//! `dryhold eval`: a formula with units from the command line.

use anyhow::Result;
use serde_json::{Value as Json, json};

use super::arguments::EvalArguments;
use super::exit::ExitStatus;
use super::session::Session;
use crate::diagnostic::{Look, render};
use crate::formula::{
    Checked, Kind, NoNames, Summary, Truth, Value, Verdict, check, default_unit, evaluate, parse,
    verdict,
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
        session.result(&value_json(&checked, &value).to_string())?;
    } else if !matches!(value, Value::Unknown(_)) {
        session.result(&checked.show(&value, &NoNames))?;
    }
    match value {
        Value::Unknown(why) => {
            session.say(&format!("dryhold: {why}"))?;
            Ok(ExitStatus::Unusable)
        }
        _ => Ok(ExitStatus::Settled),
    }
}

/// The value as one JSON object, format 1. Numbers are in the unit shown; `si` is in SI units.
/// A time without end is `null` with `"never": true`.
fn value_json(checked: &Checked, value: &Value) -> Json {
    let kind = kind_name(checked.kind());
    match value {
        Value::Quantity(draws) => {
            let unit = unit_of(checked);
            let summary = Summary::of(draws);
            let shown = |si: f64| unit.as_ref().map_or(si, |unit| unit.from_si(si));
            json!({
                "format": 1,
                "kind": kind,
                "value": shown(summary.middle),
                "unit": unit.as_ref().map(|unit| unit.symbol.as_str()),
                "low": shown(summary.low),
                "high": shown(summary.high),
                "si": summary.middle,
                "never": summary.middle.is_infinite(),
            })
        }
        Value::Truth(draws) => {
            let values = draws.values();
            let share = |wanted| {
                values.iter().filter(|&&truth| truth == wanted).count() as f64 / values.len() as f64
            };
            let value = match verdict(draws) {
                Verdict::Yes(_) => Json::Bool(true),
                Verdict::No(_) => Json::Bool(false),
                _ => Json::Null,
            };
            json!({ "format": 1, "kind": kind, "value": value, "probability": share(Truth::Yes) })
        }
        Value::Unknown(why) => {
            json!({ "format": 1, "kind": kind, "value": null, "unknown": why.to_string() })
        }
        other => json!({ "format": 1, "kind": kind, "value": checked.show(other, &NoNames) }),
    }
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
