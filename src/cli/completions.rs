//! `dryhold completions`: the script by which a shell asks what it may complete.

use anyhow::{Context, Result};
use clap::{Args, ValueEnum};
use clap_complete::env::Shells;

use super::completing::COMPLETES_FOR;
use super::exit::ExitStatus;
use super::session::Session;

pub(super) const COMPLETIONS_HELP: &str = "\
Examples:
  echo 'source <(dryhold completions bash)' >> ~/.bashrc   works in every bash
  mkdir -p ~/.local/share/bash-completion/completions
  dryhold completions bash > ~/.local/share/bash-completion/completions/dryhold
                                 both only where the package bash-completion is installed
  dryhold completions zsh > ~/.zfunc/_dryhold              with ~/.zfunc in fpath
  dryhold completions fish > ~/.config/fish/completions/dryhold.fish
  dryhold completions powershell >> $PROFILE
  dryhold completions elvish >> ~/.config/elvish/rc.elv

Besides commands and options the ids of trees, questions, causes, cautions and cases are offered, of
the handbook and the book that the line names, and behind --set QUESTION= its answers. It counts in
shells that are started after it. Print it anew after an update.";

/// Shells that are known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ShellName {
    /// The shell of most Linux systems.
    Bash,
    /// The shell of macOS.
    Zsh,
    /// A shell that shows what it would complete while you type.
    Fish,
    /// The shell of Windows.
    Powershell,
    /// The one with structured pipes.
    Elvish,
}

/// Arguments of `completions`.
#[derive(Args, Clone, Debug)]
pub struct CompletionsArguments {
    /// The shell
    pub shell: ShellName,
}

pub(super) fn run(
    session: &mut Session<'_>,
    arguments: &CompletionsArguments,
) -> Result<ExitStatus> {
    let name = arguments.shell.to_possible_value().context("the shell has no name")?;
    let shells = Shells::builtins();
    let shell = shells.completer(name.get_name()).context("the shell is not known")?;
    let mut script = Vec::new();
    shell.write_registration(COMPLETES_FOR, "dryhold", "dryhold", "dryhold", &mut script)?;
    let script = String::from_utf8_lossy(&script);
    session.result(keeping_the_sign(&script).trim_end())?;
    Ok(ExitStatus::Settled)
}

/// What bash's script does with the word that is being typed.
const TAKES_TYPED: &str = "words[COMP_CWORD]=\"$2\"";
/// The same, but for an equals sign: behind one that was just typed bash says that the word is empty, and
/// the sign would be lost.
const KEEPS_THE_SIGN: &str = "[[ ${COMP_WORDS[COMP_CWORD]} == \"=\" ]] || words[COMP_CWORD]=\"$2\"";

/// A script that passes on an equals sign as it was typed.
fn keeping_the_sign(script: &str) -> String {
    script.replace(TAKES_TYPED, KEEPS_THE_SIGN)
}
