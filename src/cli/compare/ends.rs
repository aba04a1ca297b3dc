//! Scenarios and recorded cases under two handbooks.

use std::path::Path;

use anyhow::{Context, Result};

use super::Side;
use crate::book::{Book, read_journal};
use crate::case::{Case, Event, FixedBy};
use crate::cli::hold_log::beside;
use crate::cli::parallel::in_order;
use crate::cli::rehearse::{Written, say_faults, written};
use crate::cli::session::Session;
use crate::document::Spanned;
use crate::document::raw::RawScenario;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::rehearsal::{End, Parted, Renamed, parted, rehearse, resolve_scenario};
use crate::text::count;

/// How far a probability may move for its word to have changed by a hair only (limit of ours).
pub(in crate::cli) const HAIR: f64 = 0.01;

/// How much a case ends differently, the gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Gravity {
    /// It can be run on one side only, ends or stops elsewhere, is settled or not, or something
    /// else leads.
    Elsewhere,
    /// A cause has another word and moved by more than a hair.
    OtherWords,
    /// A cause has another word, and none moved by more than a hair.
    ByAHair,
}

/// One case under both handbooks.
pub(super) struct Compared {
    /// The file of the scenario, or the id of the case.
    pub name: String,
    /// What a scenario is about.
    pub title: Option<String>,
    /// How it ends, or why it can't be run: under the older handbook, and the newer one.
    pub ends: (Result<End, String>, Result<End, String>),
    /// In what the ends differ.
    pub parted: Vec<Parted>,
    /// Why, as far as it can be told.
    pub why: Vec<Parted>,
}

impl Compared {
    fn of(
        name: String,
        title: Option<String>,
        ends: (Result<End, String>, Result<End, String>),
        renamed: &Renamed,
    ) -> Self {
        let parted = match &ends {
            (Ok(old), Ok(new)) => parted(old, new, renamed),
            _ => Vec::new(),
        };
        Self { name, title, ends, parted, why: Vec::new() }
    }

    /// How much it ends differently; nothing where it does not.
    pub fn gravity(&self) -> Option<Gravity> {
        let (old, new) = &self.ends;
        let is_elsewhere = |one: &Parted| one.by.is_none();
        let is_far = |one: &Parted| one.by.is_some_and(|by| by > HAIR);
        if old.is_ok() != new.is_ok() || self.parted.iter().any(is_elsewhere) {
            return Some(Gravity::Elsewhere);
        }
        let is_by_far = self.parted.iter().any(is_far);
        let words = if is_by_far { Gravity::OtherWords } else { Gravity::ByAHair };
        (!self.parted.is_empty()).then_some(words)
    }

    /// Whether it ends differently by more than a hair.
    pub fn is_worth_telling(&self) -> bool {
        self.gravity().is_some_and(|gravity| gravity < Gravity::ByAHair)
    }

    /// Whether it ends differently, if only by a hair, or can be run under one handbook only.
    pub fn is_parted(&self) -> bool {
        self.ends.0.is_ok() != self.ends.1.is_ok() || !self.parted.is_empty()
    }
}

/// Every scenario of a folder, or of one file; none if one can't be read, which is reported.
pub(super) fn of_scenarios(
    session: &mut Session<'_>,
    old: &Side,
    new: &Side,
    renamed: &Renamed,
    folder: &Path,
) -> Result<Option<Vec<Compared>>> {
    let Written { sources, files, faults } = written(&[folder.to_owned()])?;
    if !faults.is_empty() {
        say_faults(session, &faults, &sources)?;
        return Ok(None);
    }
    let one = |(id, raw): &(_, RawScenario)| {
        let file = sources.get(*id).name().to_owned();
        let title = raw.name.as_ref().map(|name| name.text.clone());
        let now = with_new_names(raw.clone(), renamed);
        let ends = (end(&file, raw, old), end(&file, &now, new));
        Compared::of(file, title, ends, renamed)
    };
    let mut compared = Vec::new();
    in_order(&files, one, |done| {
        compared.push(done);
        progress(session, compared.len(), files.len())
    })?;
    Ok(Some(compared))
}

/// How far it has come, in a row that the next one takes the place of, where somebody looks on.
fn progress(session: &mut Session<'_>, done: usize, of: usize) -> Result<()> {
    if !session.facts.stderr_is_terminal {
        return Ok(());
    }
    let row = format!("{done} of {} compared", count(of, "scenario"));
    if done < of {
        return session.ask(&format!("\r{row}"));
    }
    session.ask(&format!("\r{}\r", " ".repeat(row.len())))
}

/// How a scenario ends; its expectations don't count.
fn end(file: &str, raw: &RawScenario, side: &Side) -> Result<End, String> {
    let answers = RawScenario { expect: None, ..raw.clone() };
    let resolved = resolve_scenario(&answers, &side.handbook, &beside(Path::new(file)));
    let scenario = resolved
        .map_err(|faults| faults.first().map_or_else(String::new, |fault| fault.title.clone()))?;
    let rehearsed = rehearse(&scenario, &side.handbook, &side.engine);
    match rehearsed.misses.first() {
        Some(miss) => Err(miss.text.clone()),
        None => Ok(End::of(&rehearsed.case, &rehearsed.ending)),
    }
}

/// The scenario with the ids that its entries have in the newer handbook.
fn with_new_names(mut raw: RawScenario, renamed: &Renamed) -> RawScenario {
    let rename = |section: &str, name: &mut Spanned<String>| {
        name.value = renamed.now(section, &name.value);
    };
    raw.tree.iter_mut().for_each(|tree| rename("trees", tree));
    raw.answers.iter_mut().for_each(|(question, _)| rename("questions", question));
    raw.told.iter_mut().for_each(|question| rename("questions", question));
    raw.acknowledge.iter_mut().for_each(|caution| rename("cautions", caution));
    raw
}

/// Every recorded case of a folder, by id; what of a file can't be read is told.
pub(super) fn of_cases(
    session: &mut Session<'_>,
    old: &Side,
    new: &Side,
    renamed: &Renamed,
    folder: &Path,
) -> Result<Vec<Compared>> {
    std::fs::read_dir(folder).with_context(|| format!("{} can't be read", folder.display()))?;
    let mut cases = Book::at(folder).cases();
    cases.sort_by(|a, b| a.id.cmp(&b.id));
    let mut compared = Vec::new();
    for case in cases {
        let reading = read_journal(&case.path)?;
        for notice in &reading.notices {
            session.say(&format!("{}: {notice}", case.id))?;
        }
        let events: Vec<Event> = reading.entries.into_iter().map(|entry| entry.event).collect();
        let now: Vec<Event> =
            events.iter().map(|event| event_with_new_names(event.clone(), renamed)).collect();
        let ends = (
            replayed(&events, &old.handbook, &old.engine),
            replayed(&now, &new.handbook, &new.engine),
        );
        compared.push(Compared::of(case.id, None, ends, renamed));
    }
    Ok(compared)
}

/// How a recorded case ends in a handbook.
pub(in crate::cli) fn replayed(
    events: &[Event],
    handbook: &Handbook,
    engine: &Engine,
) -> Result<End, String> {
    let case = Case::replay(handbook, engine, events);
    case.map(|case| End::of_replay(&case)).map_err(|refusal| refusal.to_string())
}

/// An event with the ids that its entries have in the newer handbook.
pub(in crate::cli) fn event_with_new_names(mut event: Event, renamed: &Renamed) -> Event {
    let rename = |section: &str, id: &mut String| *id = renamed.now(section, id);
    match &mut event {
        Event::Opened { tree, .. } | Event::WentOn { tree } | Event::RoundsEnded { tree } => {
            rename("trees", tree)
        }
        Event::Did { tree, step }
        | Event::Skipped { tree, step }
        | Event::Waited { tree, step, .. } => {
            rename("trees", tree);
            *step = renamed.step_now(tree, step);
        }
        Event::Acted { action, tree, step } => {
            rename("actions", action);
            rename("trees", tree);
            *step = renamed.step_now(tree, step);
        }
        Event::Answered { question, .. } | Event::Minded { question, .. } => {
            rename("questions", question)
        }
        Event::Acknowledged { caution, .. } => rename("cautions", caution),
        Event::Closed { closing } => {
            if let FixedBy::Cause(cause) = &mut closing.fixed_by {
                rename("causes", cause);
            }
        }
        Event::Corrected { .. }
        | Event::TakenBack { .. }
        | Event::Noted { .. }
        | Event::Attached { .. }
        | Event::Described { .. }
        | Event::Worded { .. }
        | Event::Reopened
        | Event::Unknown => {}
    }
    event
}
