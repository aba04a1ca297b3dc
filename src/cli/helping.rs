//! The commands as their help shows them: examples first, commands and options in groups, and which
//! version of program and handbook this is.

use std::ffi::OsString;
use std::fmt::Write;

use clap::{Command, CommandFactory, FromArgMatches};

use super::arguments::Arguments;
use super::statuses::hung;
use crate::terminal::Paper;

/// The version, the handbook that is built in, and how the program was built.
const VERSION: &str = concat!(
    env!("CARGO_PKG_VERSION"),
    "\nhandbook ",
    env!("DRYHOLD_HANDBOOK"),
    "\nbuilt for ",
    env!("DRYHOLD_TARGET"),
    ", profile ",
    env!("DRYHOLD_PROFILE"),
);

/// The commands by who uses them, each once.
const GROUPS: [(&str, &[&str]); 4] = [
    (
        "Cases, on site and on the phone",
        &["diagnose", "resume", "cases", "report", "close", "export", "import", "why"],
    ),
    ("Holds, numbers and practice", &["rise", "watch", "eval", "units", "functions", "practice"]),
    (
        "Rules, for whoever writes them",
        &["new", "check", "rehearse", "try", "graph", "print", "compare", "schema", "sources"],
    ),
    ("The program itself", &["config", "completions", "manual"]),
];

/// What stands before the second row of what a command does.
const BEHIND_NAMES: &str = "               ";

/// As wide as all help is at most, in columns.
const WIDEST: usize = 100;

/// Reads what was typed, the program's own name first.
///
/// # Errors
/// What can't be taken, or the help or version that was asked for, to be printed.
pub(super) fn read(typed: &[OsString]) -> Result<Arguments, clap::Error> {
    Arguments::from_arg_matches(&shown().try_get_matches_from(typed)?)
}

/// The program's command with its help in that order.
pub(super) fn shown() -> Command {
    let width = Paper::of_terminal(false).width().min(WIDEST);
    let program = examples_first(Arguments::command().long_version(VERSION), width);
    let groups = groups(&program, width);
    program.help_template(format!(
        "{{about-with-newline}}\n{{usage-heading}} {{usage}}\n\n{{before-help}}{groups}\
         Options:\n{{options}}{{after-help}}"
    ))
}

/// What stands behind the options parted at its first empty line: the examples come before them.
fn examples_first(mut command: Command, width: usize) -> Command {
    let names: Vec<String> =
        command.get_subcommands().map(|command| command.get_name().to_owned()).collect();
    for name in names {
        command = command.mut_subcommand(name, |command| examples_first(command, width));
    }
    let Some(behind) = command.get_after_help().map(ToString::to_string) else { return command };
    let (examples, rest) = behind.split_once("\n\n").unwrap_or((&behind, ""));
    let template = "{about-with-newline}\n{usage-heading} {usage}\n\n\
                    {before-help}{all-args}{after-help}";
    command.before_help(examples.to_owned()).after_help(hung(rest, width)).help_template(template)
}

/// The commands of each group under its name, a line each.
fn groups(program: &Command, width: usize) -> String {
    let mut text = String::new();
    for (heading, names) in GROUPS {
        let _ = writeln!(text, "{heading}:");
        for name in names {
            let command = program.find_subcommand(name);
            let about = command.and_then(Command::get_about).map(ToString::to_string);
            let row = format!("  {name:<11}  {}", about.unwrap_or_default());
            let wrapping = textwrap::Options::new(width).subsequent_indent(BEHIND_NAMES);
            let _ = writeln!(text, "{}", textwrap::fill(&row, wrapping));
        }
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_command_stands_in_one_group() {
        let mut grouped: Vec<&str> = GROUPS.iter().flat_map(|(_, names)| *names).copied().collect();
        let program = Arguments::command();
        let mut all: Vec<&str> = program.get_subcommands().map(Command::get_name).collect();
        grouped.sort_unstable();
        all.sort_unstable();
        assert_eq!(grouped, all);
    }

    #[test]
    fn examples_come_before_options_and_statuses_behind_them() {
        let mut program = shown();
        program.build();
        for command in program.get_subcommands() {
            let help = command.clone().render_long_help().to_string();
            let at = |text: &str| help.find(text);
            let (examples, options) = (at("\nExamples:"), at("\nOptions"));
            assert!(examples.is_some() && examples < options, "{}: {help}", command.get_name());
            assert!(at("\nExit status:").is_none_or(|status| Some(status) > options), "{help}");
        }
    }

    #[test]
    fn the_version_tells_which_handbook_is_built_in() {
        let program = shown();
        let version = program.render_long_version();
        let handbook = crate::built_in::built_in_handbook().unwrap();
        let row = format!("handbook {}", &handbook.hash()[..16]);
        assert!(version.lines().any(|line| line.starts_with(&row)), "{version}");
        assert!(version.contains("\nbuilt for "), "{version}");
    }
}
