//! From arguments to an exit status.

use std::ffi::OsString;
use std::io::Write;

use anyhow::{Result, anyhow};
use clap::error::ErrorKind;

use super::arguments::{Arguments, Command};
use super::coloured::Coloured;
use super::config::{Settings, settle};
use super::exit::ExitStatus;
use super::helping::{read, shown};
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
    let typed = with_help_asked(arguments.into_iter().collect());
    let mut arguments = match read(&typed) {
        Ok(arguments) => arguments,
        Err(error) => match read(&with_diagnose(&typed)) {
            Ok(arguments) if is_for_alone(&arguments) => arguments,
            _ => match of_no_log(&error, &typed) {
                Some(told) => {
                    let _ = writeln!(err, "dryhold: {told}");
                    return ExitStatus::Unusable;
                }
                None => return usage(&error, out, err),
            },
        },
    };
    let settings = match settled(&mut arguments) {
        Ok(settings) => settings,
        Err(error) => {
            let _ = writeln!(err, "dryhold: {}", told(&error, false));
            return ExitStatus::Unusable;
        }
    };
    let colour = arguments.color.and_then(Coloured::asked);
    let facts = Facts::of_this_process(arguments.plain, colour);
    let mut session = Session { arguments: &arguments, settings, out, err, facts, console: None };
    match command(&mut session) {
        Ok(status) => status,
        Err(error) => {
            let told = told(&error, session.is_talk_coloured());
            let _ = writeln!(session.err, "dryhold: {told}");
            ExitStatus::Unusable
        }
    }
}

/// `dryhold help rise` as `dryhold rise --help`, which people type one way or the other.
fn with_help_asked(mut typed: Vec<OsString>) -> Vec<OsString> {
    if typed.get(1).is_some_and(|word| word == "help") {
        typed.remove(1);
        typed.push("--help".into());
    }
    typed
}

/// The most characters of a line of a message (limit of ours: a dozen rows of a terminal).
const LONGEST_TOLD: usize = 1_000;

/// A fault in words: what stands in it from files and people shows as it is, and of a very long line its
/// begin and its end. Where talk is coloured, the colours of a rendered fault stay.
fn told(error: &anyhow::Error, is_coloured: bool) -> String {
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
    let shown = if is_coloured { inert_but_coloured } else { inert };
    lines.map(|line| shown(&line)).collect::<Vec<_>>().join("\n")
}

/// The text with nothing in it that steers a terminal but the colours of a rendered fault (ECMA-48, select
/// graphic rendition).
fn inert_but_coloured(text: &str) -> String {
    let mut parts = text.split('\u{1b}');
    let mut shown = inert(parts.next().unwrap_or_default());
    for part in parts {
        let digits = part
            .strip_prefix('[')
            .map(|rest| rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == ';'));
        let is_colour = digits.is_some_and(|rest| rest.starts_with('m'));
        shown.push_str(if is_colour { "\u{1b}" } else { "<U+001B>" });
        shown.push_str(&inert(part));
    }
    shown
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

/// What is said to somebody who gave `rise` no log, and nothing else amiss.
fn of_no_log(error: &clap::Error, typed: &[OsString]) -> Option<String> {
    if error.kind() != ErrorKind::MissingRequiredArgument {
        return None;
    }
    let with_log = [typed, &["-".into()]].concat();
    let mut arguments = read(&with_log).ok()?;
    let settings = settled(&mut arguments).ok()?;
    let Some(Command::Rise(own)) = &arguments.command else { return None };
    Some(told(&anyhow!(rise::no_log(own, &settings.units)), false))
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
    let help = shown().render_help();
    session.result(help.to_string().trim_end())?;
    Ok(ExitStatus::Settled)
}

/// Help and version are results; everything else is wrong usage.
fn usage(error: &clap::Error, out: &mut dyn Write, err: &mut dyn Write) -> ExitStatus {
    let text = inert(&error.render().to_string());
    let (stream, status): (&mut dyn Write, _) =
        if error.use_stderr() { (err, ExitStatus::Unusable) } else { (out, ExitStatus::Settled) };
    // A closed stream has no reader to tell.
    let _ = write!(stream, "{text}");
    status
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_steers_nothing_and_keeps_its_colours() {
        let error = anyhow!("\u{1b}[1;31merror\u{1b}[0m \u{1b}[2J\u{202e}x\u{1b}]0;t\u{7}");
        let shown = told(&error, true);
        let plain = "<U+001B>[1;31merror<U+001B>[0m <U+001B>[2J<U+202E>x<U+001B>]0;t<U+0007>";
        assert_eq!(told(&error, false), plain);
        let expected = "\u{1b}[1;31merror\u{1b}[0m <U+001B>[2J<U+202E>x<U+001B>]0;t<U+0007>";
        assert_eq!(shown, expected);
    }

    #[test]
    fn a_long_line_shows_its_begin_and_its_end() {
        let shown = told(&anyhow!("a{}z\nb", "x".repeat(5_000)), false);
        assert!(shown.starts_with("axx") && shown.ends_with("xxz\nb"), "{shown}");
        assert!(shown.contains(" [4002 characters] "), "{shown}");
    }
}
