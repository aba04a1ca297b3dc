//! `dryhold import`: a case from somebody else's book comes into this one.

mod told;

use anyhow::{Context, Result, anyhow, bail};
use jiff::Timestamp;

use self::told::{both_ways, what_differs, what_happened};
use super::command_line::{carry_on_with, program};
use super::diagnose::book;
use super::exit::ExitStatus;
use super::handing_arguments::ImportArguments;
use super::load::{read_text, ready};
use super::resume::begun_with;
use super::session::Session;
use crate::book::{
    Beside, Book, CaseFile, HandedCase, HandedEvent, Journal, KeptHandbook, Prefer, beside,
    clashes, joined,
};
use crate::case::{Case, Event};
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::terminal::Paper;
use crate::text::{Line, capital, count, inert};

pub(super) fn run(session: &mut Session<'_>, arguments: &ImportArguments) -> Result<ExitStatus> {
    let Some(book) = book(session) else {
        bail!("there is no home folder; name the folder of the cases with --book FOLDER");
    };
    let handed = read(arguments)?;
    if let Some(kept) = &handed.handbook {
        keep_handbook(session, &book, &handed, kept)?;
    }
    let Some(today) = ready(session)? else { return Ok(ExitStatus::HandbookFaulty) };
    let begun = begun_with(&book, &today.handbook, &events(&handed.events)).and_then(Result::ok);
    let handbook = begun.as_ref().map_or(&today.handbook, |begun| &begun.handbook);
    replayed(handbook, &handed.events)
        .with_context(|| format!("{} can't be taken in", arguments.file.display()))?;
    let found = if arguments.apart { None } else { book.same_case(&handed) };
    match found {
        None => taken_in(session, &book, &handed),
        Some((file, _)) => {
            let (journal, _) = Journal::open(&file.path)?;
            // Read again, since it is only now that nobody else writes to it.
            let bytes = std::fs::read(&file.path)?;
            let here = HandedCase::of_file(&file.id, &bytes, None).events;
            let both = Both { file, here, there: handed.events, handbook };
            both.put_together(session, &book, journal, arguments.prefer.map(Prefer::from))
        }
    }
}

fn read(arguments: &ImportArguments) -> Result<HandedCase> {
    let path = &arguments.file;
    let text = read_text(path)?;
    let name = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    HandedCase::read(&name.unwrap_or_default(), &text)
        .map_err(|why| anyhow!("{} can't be taken in: {why}", path.display()))
}

/// Keeps the handbook that came with a case, if it is the one that the case names.
fn keep_handbook(
    session: &mut Session<'_>,
    book: &Book,
    handed: &HandedCase,
    kept: &KeptHandbook,
) -> Result<()> {
    let Some(Event::Opened { handbook: hash, .. }) = handed.events.first().map(|e| &e.event) else {
        return Ok(());
    };
    if book.keeps_handbook(hash) {
        return Ok(());
    }
    let compiled = kept.compile().1.handbook;
    if compiled.is_none_or(|handbook| handbook.hash() != hash) {
        return session.tell(
            "The handbook in the file is not the one that the case was begun with, and is left \
             out; today's judges the case.",
        );
    }
    if let Err(error) = book.keep_handbook(kept) {
        session.tell(&format!(
            "{}; the case is judged by today's handbook.",
            capital(&error.to_string())
        ))?;
    }
    Ok(())
}

fn events(handed: &[HandedEvent]) -> Vec<Event> {
    handed.iter().map(|handed| handed.event.clone()).collect()
}

/// Whether the events are a case of this handbook.
fn replayed(handbook: &Handbook, handed: &[HandedEvent]) -> Result<()> {
    let engine = Engine::new(handbook)?;
    Case::replay(handbook, &engine, &events(handed))?;
    Ok(())
}

/// A case that the book doesn't hold.
fn taken_in(session: &mut Session<'_>, book: &Book, handed: &HandedCase) -> Result<ExitStatus> {
    let id = book.take_in(handed)?;
    let named = if id == handed.id {
        String::new()
    } else {
        format!("; in the file it is {}", inert(&handed.id))
    };
    let without =
        if handed.is_without_names { " Names and free texts were left out of it." } else { "" };
    let events = count(handed.events.len(), "event");
    session.result(&format!("Case {id} is taken in with {events}{named}.{without}"))?;
    let program = program(session.arguments);
    session.say(&format!("Its report: {program} report {id}"))?;
    let rest = format!("resume {id}");
    session.say(&carry_on_with(&program, &rest, Paper::of_terminal(false).width()))?;
    Ok(ExitStatus::Settled)
}

/// A case of the book, and the same from a file.
struct Both<'h> {
    file: CaseFile,
    here: Vec<HandedEvent>,
    there: Vec<HandedEvent>,
    handbook: &'h Handbook,
}

impl Both<'_> {
    fn put_together(
        self,
        session: &mut Session<'_>,
        book: &Book,
        mut journal: Journal,
        prefer: Option<Prefer>,
    ) -> Result<ExitStatus> {
        let id = inert(&self.file.id);
        match beside(&self.here, &self.there) {
            Beside::Another | Beside::Known => {
                let is_copy = !self.here.starts_with(&self.there);
                let copy = if is_copy { ", and the names that the file lacks" } else { "" };
                session.result(&format!("Case {id} holds all of this already{copy}."))?;
                Ok(ExitStatus::Settled)
            }
            Beside::GoesOn(from) => {
                let new = &self.there[from..];
                journal.take_up(new)?;
                session
                    .result(&format!("Case {id} goes on with {}:", count(new.len(), "event")))?;
                let lines: Vec<Line> = new.iter().map(what_happened).collect();
                session.result_lines(&lines)?;
                Ok(ExitStatus::Settled)
            }
            Beside::LacksNames { first, differing } if prefer.is_none() => bail!(
                "nothing is written to case {id}: it is the case of the file without its names, places \
                 and notes. {differing} of {} differ, the first of them thus: {}; --apart keeps the \
                 one from the file as a case of its own",
                count(self.here.len(), "event"),
                what_differs(&self.here[first], &self.there[first])
            ),
            Beside::LacksNames { first: from, .. } | Beside::Parted(from) => {
                self.join(session, book, from, prefer)
            }
        }
    }

    /// Puts the two ways together on which the case went on.
    fn join(
        &self,
        session: &mut Session<'_>,
        book: &Book,
        from: usize,
        prefer: Option<Prefer>,
    ) -> Result<ExitStatus> {
        let id = inert(&self.file.id);
        let clashes = clashes(&self.here, &self.there, from);
        session.tell_lines(&both_ways(&self.here, &self.there, from, &clashes))?;
        if !clashes.is_empty() && prefer.is_none() {
            bail!(
                "nothing is written to case {id}: the two contradict each other in {}; say whose \
                 word counts with --prefer here, there or both, or keep the one from the file as \
                 a case of its own with --apart",
                count(clashes.len(), "point")
            );
        }
        let prefer = prefer.unwrap_or(Prefer::Both);
        let all = joined(&self.here, &self.there, from, prefer, Timestamp::now())?;
        replayed(self.handbook, &all).context("the two can't be put together; use --apart")?;
        let before = book.put_in_place(&self.file, &all)?;
        session.result(&format!(
            "Case {id} holds both now, by the times of their events. As it was it is kept in {}.",
            before.display()
        ))?;
        Ok(ExitStatus::Settled)
    }
}
