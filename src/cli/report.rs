//! `dryhold report`: a case as a record, in one of several forms.

use anyhow::{Context, Result, bail};

use super::book_arguments::{ReportArguments, ReportFormat};
use super::diagnose::book;
use super::exit::ExitStatus;
use super::load::handbook;
use super::named_case::find;
use super::resume::begun_with;
use super::session::{Session, painted};
use super::today::system_zone;
use super::written_file::write_file;
use crate::book::{Reading, read_journal};
use crate::case::{Case, Event, without_names};
use crate::evidence::Engine;
use crate::report::{About, CaseReport};
use crate::terminal::Paper;
use crate::text::{Line, inert};

/// How wide a report is written to a file, in columns.
const WIDTH: usize = 80;

pub(super) fn run(session: &mut Session<'_>, arguments: &ReportArguments) -> Result<ExitStatus> {
    let Some(book) = book(session) else {
        bail!("there is no home folder; name the folder of the cases with --book FOLDER");
    };
    let file = find(&book, Some(&arguments.case))?;
    let Some(today) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let reading = read_journal(&file.path)?;
    for notice in &reading.notices {
        session.tell(notice)?;
    }
    let events: Vec<Event> = reading.entries.iter().map(|entry| entry.event.clone()).collect();
    let events = if arguments.redact { without_names(&events) } else { events };
    let begun = match begun_with(&book, &today, &events) {
        Some(Err(why)) => {
            session.tell(&format!(
                "The case was begun with another version of the handbook, and {why}; today's \
                 judges it in this report."
            ))?;
            None
        }
        Some(Ok(begun)) => Some(begun),
        None => None,
    };
    let handbook = begun.map_or(today, |begun| begun.handbook);
    // A program relies on the handbook's units.
    let units = match arguments.format {
        ReportFormat::Json => &[][..],
        _ => &session.settings.units,
    };
    let handbook = &handbook.shown_in(units);
    let engine = Engine::new(handbook)?;
    let case = Case::replay(handbook, &engine, &events)
        .with_context(|| format!("the case `{}` can't be reported", inert(&file.id)))?;
    let about = about(file.id, &reading);
    write(session, arguments, &CaseReport::of(&case, &about))?;
    Ok(ExitStatus::Settled)
}

fn about(id: String, reading: &Reading) -> About {
    let times: Vec<jiff::Timestamp> = reading.entries.iter().map(|entry| entry.at).collect();
    let day = times.first().map(|at| system_zone().to_datetime(*at).date().to_string());
    About { id, day, times, notices: reading.notices.clone() }
}

fn write(
    session: &mut Session<'_>,
    arguments: &ReportArguments,
    report: &CaseReport<'_>,
) -> Result<()> {
    let text = match (arguments.format, &arguments.output) {
        (ReportFormat::Text, None) => return session.result_lines(&report.lines()),
        // Sent on, it is one row; a terminal would break that within its words.
        (ReportFormat::Message, None) if session.facts.stdout_is_terminal => {
            return session.result_lines(&[Line::plain(report.message())]);
        }
        (ReportFormat::Text, Some(_)) => painted(&Paper::new(WIDTH, false), &report.lines()),
        (ReportFormat::Markdown, _) => report.markdown(),
        (ReportFormat::Html, _) => report.html(),
        (ReportFormat::Json, _) => serde_json::to_string_pretty(&report.json())?,
        (ReportFormat::Message, _) => report.message(),
    };
    let text = text.trim_end();
    let Some(path) = &arguments.output else { return session.result(text) };
    write_file(path, &format!("{text}\n"), "the report", arguments.force)?;
    session.tell(&format!("The report is in {}", path.display()))
}
