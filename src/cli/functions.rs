//! `dryhold functions`: the functions of the formula language.

use anyhow::{Result, bail};

use super::exit::ExitStatus;
use super::session::Session;
use crate::diagnostic::near_name;
use crate::formula::{Function, Takes, find_function, functions};
use crate::quantity::QuantityKind;

pub(super) fn run(session: &mut Session<'_>, name: Option<&str>) -> Result<ExitStatus> {
    let Some(name) = name else {
        for function in functions() {
            session.result(&format!("{:<28} {}", function.signature(), function.says))?;
        }
        return Ok(ExitStatus::Settled);
    };
    match find_function(name) {
        Some(function) => explain(session, function)?,
        None => match near_name(name, functions().map(|function| function.name)) {
            Some(near) => bail!("there is no function `{name}`; did you mean `{near}`?"),
            None => bail!("there is no function `{name}`; `dryhold functions` lists them"),
        },
    }
    Ok(ExitStatus::Settled)
}

fn explain(session: &mut Session<'_>, function: &Function) -> Result<()> {
    session.result(&format!("{}\n  gives {}", function.signature(), function.says))?;
    for parameter in function.parameters {
        let takes = takes(&parameter.takes);
        session.result(&format!("  {:<10} {} ({takes})", parameter.name, parameter.says))?;
    }
    session.result(&format!("  formula    {}", function.formula))?;
    session.result(&format!("  source     {}", function.source))?;
    for example in function.examples {
        session.result(&format!("  example    {}  gives {}", example.text, example.gives))?;
    }
    Ok(())
}

fn takes(takes: &Takes) -> String {
    let kind = |kind: QuantityKind| crate::formula::Kind::Quantity(kind).with_article();
    match takes {
        Takes::Quantity(quantity) => kind(*quantity),
        Takes::AnyQuantity => "any quantity".to_owned(),
        Takes::Word(words) => {
            let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            format!("one of {}", words.join(", "))
        }
        Takes::SeveralQuantities => "quantities of one kind, or a list of them".to_owned(),
        Takes::SeveralValues => "values of any kind, or a list of them".to_owned(),
        Takes::Question => "the id of a question".to_owned(),
        Takes::Name => "the id of a question, formula or finding".to_owned(),
        Takes::Action => "the id of an action".to_owned(),
    }
}
