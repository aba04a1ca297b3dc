//! `dryhold config`: what a run goes by, and where each of it is from.

mod file;
mod settle;
mod units;

use anyhow::Result;
use clap::Args;

use super::exit::ExitStatus;
use super::session::Session;
use crate::text::inert;
pub(super) use settle::{Settings, settle};

/// What stands below the help of `config`.
pub(super) const CONFIG_HELP: &str = "\
Examples:
  dryhold config                            every setting, and where it is from
  dryhold config --example                  a file to begin with

An option of the command comes first, then the environment, then the configuration file, then what
Dryhold does by itself. The file is config.yaml in the folder dryhold of your system's configuration
folder, or the one that DRYHOLD_CONFIG names.

Exit status:
  0    told
  2    the file or a variable can't be used; the message says what";

/// A file with every key, each as it is without it.
const EXAMPLE: &str = "\
# Each key may be left out. Folders are below this file's own, unless they begin with / or ~.

# The folder that holds the cases.
# book: ~/cases

# Folders of rules that are added to the built-in handbook, or one that replaces it.
# rules: [my-rules]
# only_rules: our-handbook

# Plain numbered prompts without redrawing or colour, as for a screen reader.
plain: false

# When to colour: auto, always or never.
color: auto

# Whom the questions are worded for: site or phone.
for: site

# What a person reads, and in what a bare number is taken at a prompt. Answers that are given
# beforehand are not touched by it.
units:
  vacuum: micron       # or Pa, hPa, mbar, Torr, mTorr
  temperature: degC    # or degF
  length: m            # or ft";

/// Arguments of `config`.
#[derive(Args, Clone, Debug)]
pub struct ConfigArguments {
    /// Prints a configuration file with every key
    #[arg(long, conflicts_with = "json")]
    pub example: bool,

    /// Prints the settings as JSON
    #[arg(long)]
    pub json: bool,
}

pub(super) fn run(session: &mut Session<'_>, arguments: &ConfigArguments) -> Result<ExitStatus> {
    if arguments.example {
        session.result(EXAMPLE)?;
        return Ok(ExitStatus::Settled);
    }
    let rows = std::mem::take(&mut session.settings.rows);
    if arguments.json {
        session.result(&serde_json::to_string_pretty(&rows)?)?;
        return Ok(ExitStatus::Settled);
    }
    let widest = rows.iter().map(|row| row.setting.len()).max().unwrap_or(0);
    for row in rows {
        let (value, from) = (inert(&row.value), inert(&row.from));
        session.result(&format!("{:<widest$}  {value}  ({from})", row.setting))?;
    }
    Ok(ExitStatus::Settled)
}
