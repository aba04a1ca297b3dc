//! `dryhold manual`: manual pages, made from the same definitions as the help.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use clap::{Args, Command, CommandFactory};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, roman};

use super::arguments::Arguments;
use super::command_line::shell_word;
use super::exit::ExitStatus;
use super::session::Session;
use super::statuses::{Piece, pieces};
use crate::diagnostic::near_name;

pub(super) const MANUAL_HELP: &str = "\
Examples:
  dryhold manual > dryhold.1                the program
  dryhold manual rise | man -l -            one command, read at once
  dryhold manual --folder ~/.local/share/man/man1
  man -M ~/.local/share/man dryhold-rise    one of these, wherever man looks by itself";

/// How far what a status means stands to the right of it on a page.
const STATUS_COLUMNS: &str = "5";

/// Arguments of `manual`.
#[derive(Args, Clone, Debug)]
pub struct ManualArguments {
    /// The command; without it, the program as a whole
    pub command: Option<String>,

    /// Writes the pages of the program and of all commands into a folder
    #[arg(long, value_name = "FOLDER", conflicts_with = "command")]
    pub folder: Option<PathBuf>,
}

pub(super) fn run(session: &mut Session<'_>, arguments: &ManualArguments) -> Result<ExitStatus> {
    let mut program = Arguments::command().disable_help_subcommand(true);
    program.build();
    if let Some(folder) = &arguments.folder {
        let written = write_all(&program, folder)?;
        session.say(&format!("{written} pages are written to {}", folder.display()))?;
        session.say(&format!("To read them: {}", how_to_read(folder)))?;
        return Ok(ExitStatus::Settled);
    }
    let shown = match &arguments.command {
        Some(name) => page(named(&program, name)?)?,
        None => page(&program)?,
    };
    session.result(shown.trim_end())?;
    Ok(ExitStatus::Settled)
}

/// The command that shows a page of a folder for sure: man finds it by the folder above, and only in one
/// that is called `man1`; else it is given the file.
fn how_to_read(folder: &Path) -> String {
    let above = folder.file_name().filter(|name| *name == "man1").and(folder.parent());
    match above {
        Some(above) if above.as_os_str().is_empty() => "man -M . dryhold".to_owned(),
        Some(above) => format!("man -M {} dryhold", shell_word(above)),
        None => format!("man -l {}", shell_word(&folder.join("dryhold.1"))),
    }
}

/// The command of a name.
fn named<'c>(program: &'c Command, name: &str) -> Result<&'c Command> {
    if let Some(command) = program.find_subcommand(name) {
        return Ok(command);
    }
    match near_name(name, program.get_subcommands().map(Command::get_name)) {
        Some(near) => bail!("there is no command `{name}`; did you mean `{near}`?"),
        None => bail!("there is no command `{name}`; `dryhold --help` lists them"),
    }
}

fn write_all(program: &Command, folder: &Path) -> Result<usize> {
    std::fs::create_dir_all(folder)
        .with_context(|| format!("{} can't be made", folder.display()))?;
    let commands: Vec<&Command> =
        std::iter::once(program).chain(program.get_subcommands()).collect();
    for command in &commands {
        let path = folder.join(format!("{}.1", full_name(command)));
        std::fs::write(&path, page(command)?)
            .with_context(|| format!("{} can't be written", path.display()))?;
    }
    Ok(commands.len())
}

/// The name of a page: `dryhold-rise` for `dryhold rise`.
fn full_name(command: &Command) -> String {
    command.get_bin_name().unwrap_or_else(|| command.get_name()).replace(' ', "-")
}

/// A page in the language of `man`: what is said behind the options becomes sections of its own.
fn page(command: &Command) -> Result<String> {
    let named = command.clone().display_name(full_name(command));
    let behind = named.get_after_long_help().or(named.get_after_help());
    let behind = behind.map(ToString::to_string).unwrap_or_default();
    let has_commands = named.has_subcommands();
    let man = Man::new(named).source(concat!("dryhold ", env!("CARGO_PKG_VERSION")));
    let mut page = Vec::new();
    man.render_title(&mut page)?;
    man.render_name_section(&mut page)?;
    man.render_synopsis_section(&mut page)?;
    man.render_description_section(&mut page)?;
    man.render_options_section(&mut page)?;
    if has_commands {
        man.render_subcommands_section(&mut page)?;
    }
    sections(&behind).to_writer(&mut page)?;
    Ok(String::from_utf8(page)?)
}

/// The sections of the text behind the options, each under its line that ends with a colon. Their rows
/// stay as they are, and so do sentences between them; what a status means is filled.
fn sections(text: &str) -> Roff {
    let mut roff = Roff::new();
    let mut is_filled = true;
    for piece in pieces(text) {
        let (Piece::Line(line) | Piece::Status(line, _)) = &piece;
        let is_heading = line.ends_with(':') && !line.starts_with(' ');
        let fills = is_heading || !line.starts_with(' ') && !line.is_empty();
        if fills != is_filled && !line.is_empty() {
            roff.control(if fills { "fi" } else { "nf" }, []);
            is_filled = fills;
        }
        match (&piece, line.strip_suffix(':').filter(|_| is_heading)) {
            (Piece::Status(status, meaning), _) => {
                let row = roff.control("TP", [STATUS_COLUMNS]);
                row.text([roman(*status)]).text([roman(meaning.as_str())])
            }
            (_, Some(heading)) => roff.control("SH", [heading.to_uppercase().as_str()]),
            _ if line.is_empty() => roff.control("PP", []),
            _ => roff.text([roman(*line)]),
        };
    }
    if !is_filled {
        roff.control("fi", []);
    }
    roff
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_behind_the_options_becomes_sections() {
        let text = "Examples:\n  dryhold rise -\n\nNothing is kept.\n\nExit status:\n  0    told, on one line\n       \
                    or on two";
        let rows = sections(text).to_roff();
        for row in [
            ".SH EXAMPLES",
            "  dryhold rise \\-",
            "Nothing is kept.",
            ".SH \"EXIT STATUS\"",
            ".TP 5",
            "0",
            "told, on one line or on two",
        ] {
            assert!(rows.lines().any(|line| line == row), "{row}: {rows}");
        }
        let order: Vec<&str> = rows.lines().filter(|row| *row == ".nf" || *row == ".fi").collect();
        assert_eq!(order, [".nf", ".fi"]);
    }
}
