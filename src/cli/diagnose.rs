//! `dryhold diagnose`: one case, by a person or by answers given beforehand.

use std::path::Path;

use anyhow::{Result, anyhow, bail};

use super::arguments::{Arguments, DiagnoseArguments, For};
use super::command_line::{carry_on_with, program};
use super::concluding::{Form, conclude};
use super::exit::ExitStatus;
use super::given::Given;
use super::hold_log::named;
use super::lacking::{is_weighed, no_evidence, tell_the_way_on, tell_what_was_not_given};
use super::line_json;
use super::load::{Ready, Texts, ready};
use super::named_file::look_at;
use super::named_tree;
use super::resume::Waited;
use super::session::Session;
use super::today::today;
use crate::book::{Book, Journal};
use crate::case::{Case, Closing, Ending, Event, KeepNothing, interview};
use crate::evidence::Engine;
use crate::handbook::{Handbook, TreeId};
use crate::report::{About, CaseReport, answers, why};
use crate::terminal::{Audience, Paper, Person};
use crate::text::capital;

pub(super) fn run(session: &mut Session<'_>, arguments: &DiagnoseArguments) -> Result<ExitStatus> {
    let Some(Ready { handbook, texts }) = ready(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let given = Given::read(session, &handbook, arguments)?;
    // Another program, and whoever gives answers beforehand, rely on the handbook's units.
    let is_by_person = given.is_empty() && !arguments.line_json;
    let handbook = match is_by_person {
        true => handbook.shown_in(&session.settings.units),
        false => handbook,
    };
    let audience = session.settings.audience.unwrap_or_default();
    let tree = find_tree(
        session.arguments,
        &handbook,
        arguments.tree.as_deref().or(given.tree.as_deref()),
    )?;
    let engine = Engine::new(&handbook)?;
    let mut case = Case::open(&handbook, &engine, tree);
    let details = arguments.details.details()?;
    if given.is_empty() {
        if let Some(caution) = given.acknowledge.first() {
            bail!(
                "--acknowledge {caution} goes with answers given beforehand, by --set or \
                 --answers; at a terminal each caution is asked for"
            );
        }
        if !details.is_empty() {
            case.apply(Event::Described { details })?;
        }
        if audience == For::Phone {
            case.apply(Event::Worded { for_phone: true })?;
        }
        return by_person(session, &mut case, &texts, arguments);
    }
    if !details.is_empty() {
        bail!(
            "what is told of a job, such as its place, goes with a case that is kept; one with \
             answers given beforehand is not"
        );
    }
    by_script(session, &mut case, &given, arguments)
}

fn find_tree(options: &Arguments, handbook: &Handbook, wanted: Option<&str>) -> Result<TreeId> {
    match wanted {
        Some(name) => named_tree::find_tree(options, handbook, name),
        None => named_tree::first_tree(handbook),
    }
}

/// A person at the terminal; every event goes to the book.
fn by_person(
    session: &mut Session<'_>,
    case: &mut Case<'_>,
    texts: &Texts,
    arguments: &DiagnoseArguments,
) -> Result<ExitStatus> {
    if arguments.line_json {
        let journal = new_journal(session, case, texts)?;
        return line_json::converse(session, case, journal, None);
    }
    let console = session.take_console()?;
    session.console = Some(console);
    let journal = new_journal(session, case, texts)?;
    if let Some(journal) = &journal {
        session.tell(&format!("Case {}.", journal.id()))?;
    }
    session.tell("Type ? at any question for what you can do; Ctrl-C stops and keeps the case.")?;
    let form = Form::of(arguments.json, arguments.full);
    let audience = session.settings.audience.unwrap_or_default();
    converse(session, case, journal, audience, form, TakenUp::default())
}

/// What is known of a case that is carried on.
#[derive(Debug, Default)]
pub(super) struct TakenUp {
    /// A wait that was begun.
    pub waited: Option<Waited>,
    /// Whether the question that it was stopped at is put again.
    pub asks_again: bool,
}

/// Lets a person carry a case on, and prints the verdict.
pub(super) fn converse(
    session: &mut Session<'_>,
    case: &mut Case<'_>,
    mut journal: Option<Journal>,
    audience: For,
    form: Form,
    taken_up: TakenUp,
) -> Result<ExitStatus> {
    let audience = match audience {
        For::Site => Audience::Site,
        For::Phone => Audience::Phone,
    };
    let mut console = session.take_console()?;
    let logs = |name: &str| named(name, Path::new(""));
    let person = Person::new(console.as_mut(), audience).with_logs(&logs).with_files(&look_at);
    let mut person = person.with_figures_of(case);
    if let Some(Waited { place, seconds, passed }) = taken_up.waited {
        person = person.with_wait(place, seconds, passed);
    }
    if taken_up.asks_again {
        person = person.asked_again_at_a_stop();
    }
    let ending = match &mut journal {
        Some(journal) => interview(case, &mut person, journal),
        None => interview(case, &mut person, &mut KeepNothing),
    };
    session.console = Some(console);
    // The verdict stands apart from the talk before it.
    session.say("")?;
    let rest = journal.as_ref().filter(|journal| journal.trouble().is_none());
    let rest = rest.map(|journal| format!("{} why {}", program(session.arguments), journal.id()));
    let status = conclude(session, case, &ending, form, rest.as_deref())?;
    let json = form == Form::Json;
    if let Some(why) = journal.as_ref().and_then(Journal::trouble) {
        return unkept(session, case, why);
    }
    if audience == Audience::Phone && !json && !case.record().given.is_empty() {
        for_the_caller(session, case, journal.as_ref())?;
    }
    let way = if audience == Audience::Phone { " --for phone" } else { "" };
    if !json && let Some(tree) = left_by(case, &ending) {
        let (id, title) = case.tree_view(tree);
        session.say("")?;
        session.tell(&format!("Leaving the rig as well? \"{title}\" says how:"))?;
        // Not wrapped, so that it can be copied as it stands.
        session.say(&format!("{} diagnose {id}{way}", program(session.arguments)))?;
    }
    if !json && let Some(tree) = case.meanwhile() {
        let (id, title) = case.tree_view(tree);
        let own = "can be a case of its own. Nothing of this case is touched by it:";
        session.say("")?;
        session.tell(&format!("\"{title}\" {own}"))?;
        // Not wrapped, so that it can be copied as it stands.
        session.say(&format!("{} diagnose {id}{way}", program(session.arguments)))?;
    }
    if let Some(journal) = &journal {
        session.say("")?;
        session.say(&format!("The case is kept in {}", journal.path().display()))?;
        let is_closed = Closing::of(case.events()).is_some();
        if is_closed {
            session.say("It is closed.")?;
        } else if status != ExitStatus::Settled {
            let program = program(session.arguments);
            let rest = format!("resume {}{way}", journal.id());
            session.say(&carry_on_with(&program, &rest, Paper::of_terminal(false).width()))?;
        }
    }
    Ok(status)
}

/// The tree that says how to leave the work safely, for whoever stops in the middle of another.
fn left_by(case: &Case<'_>, ending: &Ending) -> Option<TreeId> {
    let is_left = matches!(ending, Ending::Left | Ending::EndOfInput | Ending::Interrupted);
    let is_begun = !case.record().given.is_empty();
    case.leave_by().filter(|_| is_left && is_begun)
}

/// A message to send to the caller, wrapped at its words where a terminal shows it.
fn for_the_caller(
    session: &mut Session<'_>,
    case: &Case<'_>,
    journal: Option<&Journal>,
) -> Result<()> {
    let id = journal.map(|journal| journal.id().to_owned()).unwrap_or_default();
    let about = About { id, ..About::default() };
    session.say("")?;
    session.say("To send to the caller:")?;
    let message = CaseReport::of(case, &about).message();
    match session.facts.stderr_is_terminal {
        true => session.tell(&message),
        false => session.say(&message),
    }
}

/// What could not be kept is shown, so that it can be written down.
fn unkept(session: &mut Session<'_>, case: &Case<'_>, why: &str) -> Result<ExitStatus> {
    session.say("")?;
    session.tell_lines(&answers(case))?;
    session.tell(&format!("These answers are not all kept: {why}. Write them down."))?;
    Ok(ExitStatus::Unusable)
}

/// A new case file that holds the events so far; none, and told so, where nothing can be kept.
fn new_journal(
    session: &mut Session<'_>,
    case: &Case<'_>,
    texts: &Texts,
) -> Result<Option<Journal>> {
    let Some(book) = book(session) else {
        session
            .tell("There is no home folder to keep the case in; it goes on without being kept.")?;
        return Ok(None);
    };
    let begun = book.new_case(today()).and_then(|(_, mut journal)| {
        let mut append = |event| journal.append(event, jiff::Timestamp::now());
        case.events().iter().try_for_each(&mut append)?;
        Ok(journal)
    });
    let hash = case.handbook().hash();
    let is_missing = begun.is_ok() && !book.keeps_handbook(hash);
    if is_missing && let Err(error) = book.keep_handbook(&texts.kept(hash)) {
        session.tell(&format!(
            "{}. The case is kept all the same; later it may be judged by another version of the \
             handbook.",
            capital(&error.to_string())
        ))?;
    }
    match begun {
        Ok(journal) => Ok(Some(journal)),
        Err(error) => {
            session.tell(&format!(
                "{}; this case goes on without being kept.",
                capital(&error.to_string())
            ))?;
            Ok(None)
        }
    }
}

/// The book that the arguments ask for.
pub(super) fn book(session: &Session<'_>) -> Option<Book> {
    match &session.arguments.book {
        Some(folder) => Some(Book::at(folder)),
        None => Book::of_the_platform(),
    }
}

fn by_script(
    session: &mut Session<'_>,
    case: &mut Case<'_>,
    given: &Given,
    arguments: &DiagnoseArguments,
) -> Result<ExitStatus> {
    let json = arguments.json;
    let mut script = given.script();
    let ending = match interview(case, &mut script, &mut KeepNothing) {
        // The answers reach no further, which is not the same as being stopped.
        Ending::Left => Ending::Done,
        ending => ending,
    };
    for remark in &script.remarks {
        session.say(&format!("dryhold: {remark}"))?;
    }
    tell_the_way_on(session, case, &ending, given)?;
    if matches!(ending, Ending::Unusable(_)) {
        return Ok(ExitStatus::Unusable);
    }
    if let Some(name) = &arguments.why {
        session.result_lines(&why(case, name).map_err(|message| anyhow!(message))?)?;
        return Ok(ExitStatus::Settled);
    }
    let says_nothing = !case.assessment().has_evidence && case.work_closed().is_none();
    if says_nothing && is_weighed(case) && !matches!(ending, Ending::Stopped(_)) {
        return no_evidence(session, case, &ending, json);
    }
    let form = Form::of(json, arguments.full);
    let status = conclude(session, case, &ending, form, Some("the same command with --full"))?;
    if !json && status != ExitStatus::Settled && !matches!(ending, Ending::Stopped(_)) {
        tell_what_was_not_given(session, case)?;
    }
    Ok(status)
}
