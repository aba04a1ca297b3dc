//! From arguments to an exit status.

use std::ffi::OsString;
use std::io::Write;

use anyhow::Result;
use clap::Parser;

use super::arguments::{Arguments, Command, DiagnoseArguments};
use super::exit::ExitStatus;
use super::session::Session;
use super::{
    cases, check, close, compare, completions, diagnose, eval, export, functions, graph, import,
    manual, new, practice, print, rehearse, report, resume, rise, schema, sources, try_out, units,
    watch, why,
};
use crate::terminal::Facts;

/// Runs the program with these arguments, the program's own name first.
pub fn run(
    arguments: impl IntoIterator<Item = OsString>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> ExitStatus {
    let typed: Vec<OsString> = arguments.into_iter().collect();
    let arguments = match Arguments::try_parse_from(&typed) {
        Ok(arguments) => arguments,
        Err(error) => match Arguments::try_parse_from(with_diagnose(&typed)) {
            Ok(arguments) if is_for_alone(&arguments) => arguments,
            _ => return usage(&error, out, err),
        },
    };
    let facts = Facts::of_this_process(arguments.plain, arguments.color.asked());
    let mut session = Session { arguments: &arguments, out, err, facts, console: None };
    match command(&mut session) {
        Ok(status) => status,
        Err(error) => {
            // There is nobody left to tell if standard error can't be written either.
            let _ = writeln!(session.err, "dryhold: {error:#}");
            ExitStatus::Unusable
        }
    }
}

/// The same with `diagnose` before `--for`, which people type without it.
fn with_diagnose(typed: &[OsString]) -> Vec<OsString> {
    let is_for = |word: &OsString| {
        word.to_str().is_some_and(|word| word == "--for" || word.starts_with("--for="))
    };
    let mut with = typed.to_vec();
    if let Some(place) = typed.iter().position(is_for) {
        with.insert(place, "diagnose".into());
    }
    with
}

/// Whether a case is begun from its start and nothing else was asked for by a name.
fn is_for_alone(arguments: &Arguments) -> bool {
    matches!(&arguments.command, Some(Command::Diagnose(own)) if own.tree.is_none())
}

fn command(session: &mut Session<'_>) -> Result<ExitStatus> {
    match &session.arguments.command {
        None => alone(session),
        Some(Command::Diagnose(arguments)) => diagnose::run(session, arguments),
        Some(Command::Resume(arguments)) => resume::run(session, arguments),
        Some(Command::Cases(arguments)) => cases::run(session, arguments),
        Some(Command::Report(arguments)) => report::run(session, arguments),
        Some(Command::Close(arguments)) => close::run(session, arguments),
        Some(Command::Export(arguments)) => export::run(session, arguments),
        Some(Command::Import(arguments)) => import::run(session, arguments),
        Some(Command::Why(arguments)) => why::run(session, arguments),
        Some(Command::Rise(arguments)) => rise::run(session, arguments),
        Some(Command::Watch(arguments)) => watch::run(session, arguments),
        Some(Command::Eval(arguments)) => eval::run(session, arguments),
        Some(Command::Check(arguments)) => check::run(session, arguments),
        Some(Command::Rehearse(arguments)) => rehearse::run(session, arguments),
        Some(Command::Practice(arguments)) => practice::run(session, arguments),
        Some(Command::Compare(arguments)) => compare::run(session, arguments),
        Some(Command::Graph(arguments)) => graph::run(session, arguments),
        Some(Command::Print(arguments)) => print::run(session, arguments),
        Some(Command::Try(arguments)) => try_out::run(session, arguments),
        Some(Command::New(arguments)) => new::run(session, arguments),
        Some(Command::Schema(arguments)) => schema::run(session, arguments),
        Some(Command::Functions(arguments)) => functions::run(session, arguments),
        Some(Command::Sources(arguments)) => sources::run(session, arguments),
        Some(Command::Completions(arguments)) => completions::run(session, arguments),
        Some(Command::Manual(arguments)) => manual::run(session, arguments),
        Some(Command::Units { kind }) => units::run(session, kind.as_deref()),
    }
}

/// Alone at a terminal a guided case is started or carried on; elsewhere there is help.
fn alone(session: &mut Session<'_>) -> Result<ExitStatus> {
    if session.facts.dialogue().is_some() {
        return resume::start_or_carry_on(session);
    }
    let help = <Arguments as clap::CommandFactory>::command().render_help();
    session.result(help.to_string().trim_end())?;
    Ok(ExitStatus::Settled)
}

/// Help and version are results; everything else is wrong usage.
fn usage(error: &clap::Error, out: &mut dyn Write, err: &mut dyn Write) -> ExitStatus {
    let text = error.render();
    let (stream, status): (&mut dyn Write, _) =
        if error.use_stderr() { (err, ExitStatus::Unusable) } else { (out, ExitStatus::Settled) };
    // A closed stream has no reader to tell.
    let _ = write!(stream, "{text}");
    status
}

impl Default for DiagnoseArguments {
    fn default() -> Self {
        Self {
            tree: None,
            answers_set: Vec::new(),
            answers: None,
            acknowledge: Vec::new(),
            audience: super::arguments::For::Site,
            json: false,
            full: false,
            line_json: false,
            why: None,
            details: super::book_arguments::DetailArguments::default(),
        }
    }
}
