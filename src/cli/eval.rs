//! `dryhold eval`: a formula with units from the command line.

mod json;
mod told;

use anyhow::Result;

use super::arguments::EvalArguments;
use super::exit::ExitStatus;
use super::session::Session;
use crate::diagnostic::{Look, render};
use crate::formula::{Checked, NoNames, Summary, Value, check, evaluate, parse};
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
    answer(session, arguments, &checked, &value)
}

fn answer(
    session: &mut Session<'_>,
    arguments: &EvalArguments,
    checked: &Checked,
    value: &Value,
) -> Result<ExitStatus> {
    let steps = arguments.working.then(|| checked.working(&NoNames));
    if arguments.json {
        session.result(&json::answer(checked, value, steps.as_deref())?)?;
    } else if let Some(steps) = steps.filter(|steps| !steps.is_empty()) {
        session.result(&format!("{}\n", told::working(&steps)))?;
    }
    if let Value::Unknown(why) = value {
        session.say(&format!("dryhold: {why}"))?;
        return Ok(ExitStatus::Unusable);
    }
    if !arguments.json {
        session.result(&told::answer(checked, value))?;
    }
    Ok(ExitStatus::Settled)
}

/// Whether a time is one that never comes.
fn is_never(value: &Value) -> bool {
    matches!(value, Value::Quantity(draws) if Summary::of(draws).middle.is_infinite())
}
