//! What an entry needs: from flags, or asked for at a terminal.

use anyhow::{Result, bail};

use crate::cli::exit::ExitStatus;
use crate::cli::session::Session;
use crate::terminal::{Checked, Menu, MenuOption, Reply, ValuePrompt};
use crate::text::{Line, Role, capital, list_and};

/// The person left before everything was asked.
#[derive(Clone, Copy, Debug, thiserror::Error)]
#[error("nothing is written")]
pub(super) struct Left {
    is_interrupted: bool,
}

impl Left {
    /// How the run ends then.
    pub fn status(self) -> ExitStatus {
        if self.is_interrupted { ExitStatus::Interrupted } else { ExitStatus::NotSettled }
    }
}

/// A text that is wanted.
pub(super) struct Wanted<'a> {
    /// What was given behind the flag.
    pub given: Option<&'a str>,
    /// The flag with what stands behind it.
    pub flag: &'static str,
    /// What is asked at a terminal.
    pub ask: &'static str,
    /// What may be typed, behind "type".
    pub hint: &'static str,
}

/// Refuses to begin where something is not given and nobody can be asked for it.
pub(super) fn require(session: &Session<'_>, what: &str, wanted: &[&Wanted<'_>]) -> Result<()> {
    let missing: Vec<&str> =
        wanted.iter().filter(|one| one.given.is_none()).map(|one| one.flag).collect();
    if !missing.is_empty() && session.facts.dialogue().is_none() {
        bail!("`new {what}` needs {}; at a terminal it asks for them", list_and(&missing));
    }
    Ok(())
}

/// The text that was given if `judge` takes it; else one that a person types until it does.
pub(super) fn text(
    session: &mut Session<'_>,
    wanted: &Wanted<'_>,
    judge: &dyn Fn(&str) -> Result<String, String>,
) -> Result<String> {
    if let Some(given) = wanted.given {
        return judge(given).map_err(|why| anyhow::anyhow!(why));
    }
    let check = |typed: &str| match judge(typed) {
        Ok(_) => Checked::Accepted { echo: Line::new() },
        Err(why) => Checked::Refused(Line::plain(format!("{}.", capital(&why)))),
    };
    let prompt = ValuePrompt {
        title: vec![Line::new(), Line::strong(wanted.ask)],
        hint: wanted.hint.to_owned(),
        actions: Vec::new(),
        check: &check,
    };
    let mut console = session.take_console()?;
    let reply = console.value(&prompt);
    session.console = Some(console);
    match reply {
        Reply::Typed(typed) => judge(&typed).map_err(|why| anyhow::anyhow!(why)),
        other => Err(left(&other).into()),
    }
}

/// The place of the option that a person chooses.
pub(super) fn choice(
    session: &mut Session<'_>,
    ask: &str,
    options: &[(&str, &str)],
) -> Result<usize> {
    let menu = Menu {
        title: vec![Line::new(), Line::strong(ask)],
        options: options
            .iter()
            .map(|(label, hint)| MenuOption::new(*label).with_hint(*hint))
            .collect(),
        actions: Vec::new(),
        ..Menu::default()
    };
    let mut console = session.take_console()?;
    let reply = console.choose(&menu);
    session.console = Some(console);
    match reply {
        Reply::Chosen(place) => Ok(place),
        other => Err(left(&other).into()),
    }
}

/// Tells once, before the first question, how to get out.
pub(super) fn open(session: &mut Session<'_>, wanted: &[&Wanted<'_>]) -> Result<()> {
    if wanted.iter().all(|one| one.given.is_some()) {
        return Ok(());
    }
    let mut console = session.take_console()?;
    console.show(&[Line::new()
        .push(Role::Quiet, "Nothing is written before the last question; Ctrl-C leaves.")]);
    session.console = Some(console);
    Ok(())
}

fn left(reply: &Reply) -> Left {
    Left { is_interrupted: matches!(reply, Reply::Interrupted) }
}
