//! From arguments to an exit status.

use std::ffi::OsString;
use std::io::Write;

use anyhow::Result;
use clap::Parser;

use super::arguments::{Arguments, Command, DiagnoseArguments};
use super::coloured::Coloured;
use super::config::{Settings, settle};
use super::exit::ExitStatus;
use super::session::Session;
use super::{
    cases, check, close, compare, completions, config, diagnose, eval, export, functions, graph,
    import, manual, new, practice, print, rehearse, report, resume, rise, schema, sources, try_out,
    units, watch, why,
};
use crate::terminal::Facts;
use crate::text::inert;

/// Runs the program with these arguments, the program's own name first.
pub fn run(
    arguments: impl IntoIterator<Item = OsString>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> ExitStatus {
    let typed: Vec<OsString> = arguments.into_iter().collect();
    if let Some(why) = steering(&typed) {
        // There is nobody left to tell if standard error can't be written either.
        let _ = writeln!(err, "dryhold: {why}");
        return ExitStatus::Unusable;
    }
    let mut arguments = match Arguments::try_parse_from(&typed) {
        Ok(arguments) => arguments,
        Err(error) => match Arguments::try_parse_from(with_diagnose(&typed)) {
            Ok(arguments) if is_for_alone(&arguments) => arguments,
            _ => return usage(&error, out, err),
        },
    };
    let settings = match settled(&mut arguments) {
        Ok(settings) => settings,
        Err(error) => {
            let _ = writeln!(err, "dryhold: {}", told(&error));
            return ExitStatus::Unusable;
        }
    };
    let colour = arguments.color.and_then(Coloured::asked);
    let facts = Facts::of_this_process(arguments.plain, colour);
    let mut session = Session { arguments: &arguments, settings, out, err, facts, console: None };
    match command(&mut session) {
        Ok(status) => status,
        Err(error) => {
            let _ = writeln!(session.err, "dryhold: {}", told(&error));
            ExitStatus::Unusable
        }
    }
}

/// Why an argument can't be taken that would steer the terminal of whoever reads of it.
fn steering(arguments: &[OsString]) -> Option<String> {
    arguments.iter().enumerate().find_map(|(place, argument)| {
        let text = argument.to_string_lossy();
        let found = text.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t' | '\r'))?;
        let code = u32::from(found);
        Some(format!("argument {place} holds U+{code:04X}, which steers a terminal; take it out"))
    })
}

/// The most characters of a line of a message (limit of ours: a dozen rows of a terminal).
const LONGEST_TOLD: usize = 1_000;

/// A fault in words: what stands in it from files and people shows as it is, and of a very long line its
/// begin and its end.
fn told(error: &anyhow::Error) -> String {
    let text = format!("{error:#}");
    let lines = text.split('\n').map(|line| {
        let length = line.chars().count();
        let kept = LONGEST_TOLD / 2;
        if length <= LONGEST_TOLD {
            return line.to_owned();
        }
        let begin: String = line.chars().take(kept).collect();
        let end: String = line.chars().skip(length - kept).collect();
        format!("{begin} [{} characters] {end}", length - 2 * kept)
    });
    // Colours are there only where they were asked for; the rest steers nothing.
    let shown =
        lines.map(|line| line.split('\u{1b}').map(inert).collect::<Vec<_>>().join("\u{1b}"));
    shown.collect::<Vec<_>>().join("\n")
}

/// What the arguments leave open, from the environment and the configuration file. `config` shows a
/// sample file whatever is in the one that is there.
fn settled(arguments: &mut Arguments) -> Result<Settings> {
    if matches!(&arguments.command, Some(Command::Config(own)) if own.example) {
        return Ok(Settings::default());
    }
    let audience = match &arguments.command {
        Some(Command::Diagnose(own)) => own.audience,
        Some(Command::Resume(own)) => own.audience,
        _ => None,
    };
    settle(arguments, audience, &|name| std::env::var_os(name))
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
        Some(Command::Config(arguments)) => config::run(session, arguments),
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
            audience: None,
            json: false,
            full: false,
            line_json: false,
            why: None,
            details: super::book_arguments::DetailArguments::default(),
        }
    }
}
