//! `dryhold functions`: the functions of the formula language.

mod json;

use anyhow::{Result, bail};

use super::arguments::FunctionsArguments;
use super::exit::ExitStatus;
use super::hanging::{call, hang};
use super::session::Session;
use crate::diagnostic::near_name;
use crate::formula::{FAMILIES, Family, Function, Parameter, find_function, functions};

/// Words by which people look for functions that don't name themselves so.
const SOUGHT: &[(&[&str], &[&str])] = &[(
    &["earlier", "round", "rounds", "last", "former", "prior", "before_last", "history", "again"],
    &["first", "previous", "before", "every"],
)];

pub(super) fn run(session: &mut Session<'_>, arguments: &FunctionsArguments) -> Result<ExitStatus> {
    let Some(name) = arguments.name.as_deref() else {
        list(session, arguments.json, |_| true)?;
        return Ok(ExitStatus::Settled);
    };
    if let Some(function) = find_function(name) {
        let told = if arguments.json { json::whole(function)? } else { explained(function) };
        session.result(&told)?;
        return Ok(ExitStatus::Settled);
    }
    if let Some((_, meant)) = SOUGHT.iter().find(|(words, _)| words.contains(&name)) {
        session.say(&format!("dryhold: there is no function `{name}`; these speak of it"))?;
        list(session, arguments.json, |function| meant.contains(&function.name))?;
        return Ok(ExitStatus::Settled);
    }
    if let Some(near) = near_name(name, functions().map(|function| function.name)) {
        bail!("there is no function `{name}`; did you mean `{near}`?");
    }
    let speaks = |function: &Function| {
        function.name.contains(name) || function.says.split_whitespace().any(|word| word == name)
    };
    if !functions().any(speaks) {
        bail!("there is no function `{name}`; `dryhold functions` lists them");
    }
    session.say(&format!("dryhold: there is no function `{name}`; these speak of it"))?;
    list(session, arguments.json, speaks)?;
    Ok(ExitStatus::Settled)
}

/// Lists the functions that are wanted, below the headings of their families.
fn list(session: &mut Session<'_>, json: bool, wanted: impl Fn(&Function) -> bool) -> Result<()> {
    if json {
        return session.result(&json::list(wanted)?);
    }
    let of = |family: &'static Family| {
        let rows: Vec<String> =
            family.functions.iter().filter(|function| wanted(function)).map(listed).collect();
        (!rows.is_empty()).then(|| format!("{}\n{}", family.title, rows.join("\n")))
    };
    let families: Vec<String> = FAMILIES.iter().filter_map(of).collect();
    session.result(&families.join("\n\n"))
}

fn listed(function: &Function) -> String {
    let signature = call("  ", "      ", &function.signature());
    format!("{signature}\n{}", hang("      ", function.says))
}

/// All that the table says of a function.
fn explained(function: &Function) -> String {
    let mut rows = vec![call("", "    ", &function.signature())];
    rows.push(hang("  gives    ", &format!("{} ({})", function.says, function.gives_in_words())));
    rows.extend(meanings(function.words(), "           "));
    for parameter in function.parameters {
        rows.push(String::new());
        rows.extend(described(parameter));
    }
    rows.push(String::new());
    rows.push(hang("  formula  ", function.formula));
    if !function.holds.is_empty() {
        rows.push(hang("  holds    ", function.holds));
    }
    rows.push(hang("  source   ", function.source));
    for example in function.examples {
        rows.push(call("  example  ", "             ", example.text));
        rows.push(hang("           ", &format!("gives {}", example.gives)));
    }
    rows.join("\n")
}

fn described(parameter: &Parameter) -> Vec<String> {
    let mut rows = vec![format!("  {}", parameter.name)];
    if !parameter.says.is_empty() {
        rows.push(hang("      ", parameter.says));
    }
    let takes = format!("{}{}", parameter.takes_in_words(), left_out(parameter));
    if takes != parameter.says {
        rows.push(hang("      ", &takes));
    }
    rows.extend(meanings(parameter.words(), "      "));
    rows
}

fn left_out(parameter: &Parameter) -> String {
    match (parameter.need, parameter.default_in_words()) {
        (_, Some(default)) => format!("; {default} if left out"),
        (crate::formula::Need::Optional, None) => "; may be left out".to_owned(),
        _ => String::new(),
    }
}

fn meanings(words: &[(&str, &str)], indent: &str) -> Vec<String> {
    words.iter().map(|(word, means)| hang(&format!("{indent}{word}: "), means)).collect()
}
