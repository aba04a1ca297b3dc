//! `dryhold` alone: a case that waits, or that was stopped, is offered before a new one is begun.

use anyhow::Result;

use super::first::welcome;
use super::waiting::{Most, WaitingCases, waiting};
use super::{Way, book, carry_on};
use crate::book::Book;
use crate::case::Details;
use crate::cli::arguments::DiagnoseArguments;
use crate::cli::command_line::program;
use crate::cli::concluding::Form;
use crate::cli::diagnose;
use crate::cli::exit::ExitStatus;
use crate::cli::session::Session;
use crate::terminal::{Menu, MenuOption, Reply};
use crate::text::{Line, Role, count};

/// The most cases that are offered at once (limit of ours: a list to take in at a glance).
const MOST_OFFERED: Most = Most { waiting: 3, stopped: 2 };

/// Offers to carry on with a case that waits, the latest first, to look again at one that was
/// stopped, or to start one.
pub(in crate::cli) fn start_or_carry_on(session: &mut Session<'_>) -> Result<ExitStatus> {
    let new = DiagnoseArguments::default();
    let is_first = |book: &Book| book.cases().is_empty();
    if session.facts.stdin_is_terminal
        && let Some(book) = book(session).filter(is_first)
    {
        return welcome(session, &book);
    }
    let found = book(session).map(|book| (waiting(session, &book, MOST_OFFERED), book));
    let Some((found, book)) =
        found.filter(|(found, _)| !(found.latest.is_empty() && found.stopped.is_empty()))
    else {
        return diagnose::run(session, &new);
    };
    // A line of a pipe was meant for the first question, as `diagnose` asks it.
    if !session.facts.stdin_is_terminal {
        tell_what_waits(session, &found)?;
        return diagnose::run(session, &new);
    }
    let mut console = session.take_console()?;
    let reply = console.choose(&menu(&found, &program(session.arguments)));
    session.console = Some(console);
    match reply {
        // The first is a new case, whatever waits.
        Reply::Chosen(0) => diagnose::run(session, &new),
        Reply::Chosen(place) => match found.latest.iter().chain(&found.stopped).nth(place - 1) {
            Some(chosen) => {
                let details = Details::default();
                let asks_again = place > found.latest.len();
                let form = Form::AsItFits;
                let way = Way {
                    audience: None,
                    form,
                    reopens: false,
                    asks_again,
                    by_program: false,
                    details,
                };
                carry_on(session, &book, &chosen.file, way)
            }
            None => diagnose::run(session, &new),
        },
        Reply::Interrupted => Ok(ExitStatus::Interrupted),
        _ => Ok(ExitStatus::NotSettled),
    }
}

fn tell_what_waits(session: &mut Session<'_>, found: &WaitingCases) -> Result<()> {
    let program = program(session.arguments);
    for case in &found.latest {
        let id = &case.file.id;
        session.tell(&format!("Case {id} waits; {program} resume {id} carries it on."))?;
    }
    for case in &found.stopped {
        let (id, stands) = (&case.file.id, &case.stands);
        session.tell(&format!("Case {id}: {stands} {program} resume {id} shows it again."))?;
    }
    Ok(())
}

fn menu(found: &WaitingCases, program: &str) -> Menu {
    let mut title = Vec::new();
    if found.has_more {
        let all = Line::plain("These were written last; ")
            .push(Role::Name, format!("{program} cases --open"))
            .push(Role::Plain, " lists all, and ")
            .push(Role::Name, format!("{program} resume CASE"))
            .push(Role::Plain, " carries any of them on.");
        title.push(all);
    }
    let (waiting, stopped) = (found.latest.len(), found.stopped.len());
    let unfinished = match (waiting, found.has_more) {
        (0, _) => None,
        (1, _) => Some("You have a case that is not finished.".to_owned()),
        (many, true) => Some(format!("You have more than {many} cases that are not finished.")),
        (many, false) => Some(format!("You have {} that are not finished.", count(many, "case"))),
    };
    let halted = match stopped {
        0 => None,
        1 => Some("A case was stopped for safety.".to_owned()),
        many => Some(format!("{many} cases were stopped for safety.")),
    };
    let told: Vec<String> = unfinished.into_iter().chain(halted).collect();
    title.push(Line::strong(told.join(" ")));
    let waiting = found.latest.iter().map(|case| {
        MenuOption::new(format!("Carry on with case {}", case.file.id))
            .with_id(case.file.id.as_str())
            .with_hint(case.stands.as_str())
    });
    let stopped = found.stopped.iter().map(|case| {
        MenuOption::new(format!("Look again at case {}", case.file.id))
            .with_id(case.file.id.as_str())
            .with_hint(case.stands.as_str())
    });
    // Always at the same place, so that a hand that knows it begins no other unit's case again.
    let new = MenuOption::new("Start a new case");
    let options = [new].into_iter().chain(waiting).chain(stopped).collect();
    // What was interrupted last is carried on by Enter alone.
    let preset = (!found.latest.is_empty()).then_some(1);
    Menu { title, options, preset, ..Menu::default() }
}
