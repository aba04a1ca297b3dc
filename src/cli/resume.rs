//! `dryhold resume`, and `dryhold` alone: carrying on with a case.

mod alone;
mod as_begun;
mod first;
mod waited;
mod waiting;

use anyhow::{Context, Result, bail};
use jiff::Timestamp;

use super::arguments::{For, ResumeArguments};
use super::close::closed_in;
use super::command_line::program;
use super::concluding::Form;
use super::diagnose::{TakenUp, book, converse};
use super::exit::ExitStatus;
use super::line_json;
use super::load::ready;
use super::named_case::find;
use super::session::Session;
use crate::book::{Book, CaseFile, Journal, Reading};
use crate::case::{Case, Closing, Detail, Details, Event, Now};
use crate::evidence::Engine;
use crate::handbook::{Handbook, TreeId};
use crate::report::{board, ranking_line};
use crate::terminal::{Menu, MenuOption, Reply};
use crate::text::{Line, count, inert};
pub(super) use alone::start_or_carry_on;
pub(super) use as_begun::begun_with;
use as_begun::{as_begun, tell_otherwise};
pub(super) use waited::Waited;
use waited::waited;

pub(super) fn run(session: &mut Session<'_>, arguments: &ResumeArguments) -> Result<ExitStatus> {
    let Some(book) = book(session) else {
        bail!("there is no home folder; name the folder of the cases with --book FOLDER");
    };
    let file = find(&book, arguments.case.as_deref())?;
    let details = arguments.details.details()?;
    let way = Way {
        audience: arguments.audience,
        form: Form::of(arguments.json, arguments.full),
        reopens: arguments.reopen,
        asks_again: false,
        by_program: arguments.line_json,
        details,
    };
    carry_on(session, &book, &file, way)
}

/// How a case is carried on.
struct Way {
    /// Whom the questions are worded for; as the case went on last, if not told.
    audience: Option<For>,
    /// What is printed of the verdict.
    form: Form,
    /// Whether it is opened again without asking.
    reopens: bool,
    /// Whether the question that it was stopped at is put again.
    asks_again: bool,
    /// Whether another program carries it on.
    by_program: bool,
    /// What is told of the job.
    details: Details,
}

/// Opens a case file and lets a person carry it on, in the handbook that it was begun with if the
/// book has it.
fn carry_on(
    session: &mut Session<'_>,
    book: &Book,
    file: &CaseFile,
    way: Way,
) -> Result<ExitStatus> {
    let Some(today) = ready(session)? else { return Ok(ExitStatus::HandbookFaulty) };
    // Another program relies on the handbook's units.
    let units = if way.by_program { Vec::new() } else { session.settings.units.clone() };
    let today = today.shown_in(&units);
    let (mut journal, reading) = Journal::open(&file.path)?;
    for notice in &reading.notices {
        session.tell(notice)?;
    }
    let events: Vec<Event> = reading.entries.iter().map(|entry| entry.event.clone()).collect();
    let audience = match way.audience {
        None if Event::were_for_the_phone(&events) => For::Phone,
        told => told.unwrap_or_default(),
    };
    let begun = as_begun(session, book, &today.handbook, &events)?;
    let begun = begun.map(|begun| begun.shown_in(&units));
    let handbook = &begun.as_ref().unwrap_or(&today).handbook;
    let engine = Engine::new(handbook)?;
    let mut case = Case::replay(handbook, &engine, &events)
        .with_context(|| format!("the case `{}` can't be carried on", file.id))?;
    if let Some(begun) = &begun {
        tell_otherwise(session, begun, &today, &events)?;
    }
    let more = match before_it_goes_on(session, handbook, &file.id, &way, &events)? {
        Ok(more) => more,
        Err(left) => return Ok(left),
    };
    let waited = waited(&case, &reading, Timestamp::now());
    if !way.by_program {
        tell_where(session, &case, &reading, &file.id, audience)?;
        waited.as_ref().map_or(Ok(()), |waited| session.tell(&waited.told()))?;
    }
    for event in more {
        case.apply(event.clone())?;
        if reading.is_writable {
            journal.append(&event, Timestamp::now())?;
        }
    }
    let journal = if reading.is_writable {
        Some(journal)
    } else {
        session.tell("The file is damaged, so nothing more is written to it.")?;
        None
    };
    if way.by_program {
        return line_json::converse(session, &mut case, journal, waited);
    }
    let taken_up = TakenUp { waited, asks_again: way.asks_again };
    converse(session, &mut case, journal, audience, way.form, taken_up)
}

/// What happens before a case goes on: a closed one is opened again, and what is told of the job
/// is kept. Where it is left closed, the status to end with.
fn before_it_goes_on(
    session: &mut Session<'_>,
    handbook: &Handbook,
    id: &str,
    way: &Way,
    events: &[Event],
) -> Result<Result<Vec<Event>, ExitStatus>> {
    let mut more = Vec::new();
    if let Some(closing) = Closing::of(events) {
        let note = closing.note.as_ref().map(|note| format!("; {}", inert(note)));
        let how = closed_in(handbook, &closing) + &note.unwrap_or_default();
        let how = how.trim_end_matches('.');
        if !way.reopens && way.by_program {
            bail!("case {id} is closed: {how}; --reopen opens it again");
        }
        if !way.reopens
            && let Err(left) = opened_again(session, id, how)?
        {
            return Ok(Err(left));
        }
        more.push(Event::Reopened);
    }
    let was_for_phone = Event::were_for_the_phone(events);
    let for_phone = way.audience.map(|audience| audience == For::Phone);
    if let Some(for_phone) = for_phone.filter(|for_phone| *for_phone != was_for_phone) {
        more.push(Event::Worded { for_phone });
    }
    let details = way.details.beyond(&Details::of(events));
    if !details.is_empty() {
        more.push(Event::Described { details });
    }
    Ok(Ok(more))
}

/// Asks whether a closed case is to be opened again; if not, the status to end with.
fn opened_again(session: &mut Session<'_>, id: &str, how: &str) -> Result<Result<(), ExitStatus>> {
    let mut console = session.take_console()?;
    let reply = console.choose(&Menu {
        title: vec![Line::strong(format!("Case {id} is closed: {how}."))],
        options: vec![
            MenuOption::new("Leave it closed"),
            MenuOption::new("Open it again and carry on"),
        ],
        actions: Vec::new(),
        ..Menu::default()
    });
    session.console = Some(console);
    Ok(match reply {
        Reply::Chosen(1) => Ok(()),
        Reply::Interrupted => Err(ExitStatus::Interrupted),
        _ => Err(ExitStatus::NotSettled),
    })
}

/// `Case 2026-03-31-1: you stopped 2 h 03 min ago at "A hold", after 5 answers.`, and the ranking; on the phone
/// the board.
fn tell_where(
    session: &mut Session<'_>,
    case: &Case<'_>,
    reading: &Reading,
    id: &str,
    audience: For,
) -> Result<()> {
    session.tell(&format!("Case {id}: {}.", where_it_stands(case, reading)))?;
    let new = format!("{} diagnose", program(session.arguments));
    session.tell(&whose_it_is(case, reading, &new))?;
    let mut console = session.take_console()?;
    // A stop is said by itself: what an answer speaks for, or to ask next, is beside the point then.
    let is_shown_at_the_end = matches!(case.now(), Now::Ended { .. } | Now::Stopped { .. });
    // Who takes a call up again has not seen what was said before.
    if audience == For::Phone && !is_shown_at_the_end {
        console.show(&board(case, true));
    } else if case.assessment().has_evidence && !is_shown_at_the_end {
        console.show(&[ranking_line(case)]);
    }
    session.console = Some(console);
    Ok(())
}

/// `It is of chiller 2, cellar, begun 2 days ago; ...`: the unit for which its answers stand.
fn whose_it_is(case: &Case<'_>, reading: &Reading, new: &str) -> String {
    let details = Details::of(case.events());
    let told = [Detail::Equipment, Detail::Place].into_iter().filter_map(|of| details.get(of));
    let unit: Vec<String> = told.map(inert).collect();
    let unit = match unit.is_empty() {
        true => "a unit that nobody named".to_owned(),
        false => unit.join(", "),
    };
    let begun = reading.entries.first().map(|first| {
        let seconds = Timestamp::now().duration_since(first.at).as_secs();
        format!(", begun {} ago", for_people(seconds))
    });
    format!(
        "It is of {unit}{}. What it was told, also of dangers, stands for that unit alone; for another \
         one start a new case: {new}",
        begun.unwrap_or_default()
    )
}

/// `you stopped 2 h 03 min ago at "A hold", after 5 answers`.
fn where_it_stands(case: &Case<'_>, reading: &Reading) -> String {
    let ago = reading.entries.last().map(|last| {
        let seconds = Timestamp::now().duration_since(last.at).as_secs();
        format!(" {} ago", for_people(seconds))
    });
    let answers = count(case.record().given.len(), "answer");
    let title = case.tree_view(here(case)).1;
    format!("you stopped{} at \"{title}\", after {answers}", ago.unwrap_or_default())
}

/// The tree in which a case stands.
fn here(case: &Case<'_>) -> TreeId {
    match case.now() {
        Now::Ask { place, .. } | Now::Do { place, .. } | Now::Act { place, .. } => place.tree,
        Now::Acknowledge { .. } | Now::Ended { .. } | Now::Stopped { .. } => {
            case.path().last().map_or(case.tree(), |passed| passed.place.tree)
        }
    }
}

/// `less than a minute`, `14 min`, `2 h 03 min`, `3 days`.
fn for_people(seconds: i64) -> String {
    match seconds.max(0) {
        0..60 => "less than a minute".to_owned(),
        seconds @ 60..3_600 => format!("{} min", seconds / 60),
        seconds @ 3_600..172_800 => format!("{} h {:02} min", seconds / 3_600, seconds / 60 % 60),
        seconds => format!("{} days", seconds / 86_400),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_ago_is_said_in_the_unit_that_people_use() {
        let said = [0, 59, 60, 3_599, 3_600, 7_380, 172_800].map(for_people);
        let expected = [
            "less than a minute",
            "less than a minute",
            "1 min",
            "59 min",
            "1 h 00 min",
            "2 h 03 min",
            "2 days",
        ];
        assert_eq!(said, expected);
        assert_eq!(for_people(-5), "less than a minute", "the clock was set back");
    }
}
