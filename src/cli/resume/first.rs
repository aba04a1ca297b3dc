//! `dryhold` alone where no case was ever kept: where things are kept, and an exercise to try it on.

use anyhow::Result;

use crate::book::Book;
use crate::cli::arguments::DiagnoseArguments;
use crate::cli::command_line::program;
use crate::cli::exit::ExitStatus;
use crate::cli::practice_arguments::{LevelChoice, PracticeArguments};
use crate::cli::session::Session;
use crate::cli::{diagnose, practice};
use crate::terminal::{Menu, MenuOption, Reply};
use crate::text::{Line, Role};

/// The rig of the exercise: an easy one whose fault the first two readings show.
const SEED: u64 = 7;

/// Says what whoever starts it for the first time has to know, and offers an exercise.
pub(super) fn welcome(session: &mut Session<'_>, book: &Book) -> Result<ExitStatus> {
    let mut console = session.take_console()?;
    let reply = console.choose(&menu(book));
    session.console = Some(console);
    match reply {
        Reply::Chosen(0) => diagnose::run(session, &DiagnoseArguments::default()),
        Reply::Chosen(1) => practise(session),
        Reply::Interrupted => Ok(ExitStatus::Interrupted),
        _ => Ok(ExitStatus::NotSettled),
    }
}

/// The exercise, and what comes after it: nobody who starts it for the first time knows the commands.
fn practise(session: &mut Session<'_>) -> Result<ExitStatus> {
    let status = practice::run(session, &exercise())?;
    if status != ExitStatus::Interrupted {
        let program = program(session.arguments);
        session.say("")?;
        session.tell(&format!(
            "A case of your own begins with: {program}. Another rig with a hidden fault: {program} \
             practice"
        ))?;
    }
    Ok(status)
}

fn exercise() -> PracticeArguments {
    PracticeArguments { level: LevelChoice::Easy, seed: Some(SEED), ..PracticeArguments::default() }
}

fn menu(book: &Book) -> Menu {
    let kept = Line::plain("No case was kept yet. Each answer is kept in ")
        .push(Role::Name, book.folder().display().to_string())
        .push(
            Role::Plain,
            "; nothing else is written, and nothing leaves this machine. dryhold config says how to \
             change that.",
        );
    let title = vec![
        Line::plain(
            "Dryhold asks what you see and read, and says which fault is likely and what to do next. \
             The makers' instructions, local codes and licensed practice come before it.",
        ),
        kept,
        Line::strong("What would you like to do?"),
    ];
    let options = vec![
        MenuOption::new("Find out what is wrong with a system").with_id("case"),
        MenuOption::new("Try it first, at a simulated rig with a hidden fault").with_id("practice"),
        MenuOption::new("Leave").with_id("leave"),
    ];
    Menu { title, options, preset: Some(0), ..Menu::default() }
}
