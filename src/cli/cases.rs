//! `dryhold cases`: the book as a list.

mod filter;
mod json;
mod judges;
mod told;

use anyhow::{Context, Result, bail};
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::book_arguments::CasesArguments;
use super::diagnose::book;
use super::exit::ExitStatus;
use super::load::handbook;
use super::parallel::in_order;
use super::session::Session;
use super::today::system_zone;
use crate::book::{Book, CaseFile, Index, Row};
use crate::case::Detail;
use crate::evidence::Engine;
use crate::handbook::Handbook;
use crate::text::count;
use filter::Filter;
use judges::Judges;

/// So many cases are judged without a word about it (`estimate`: less than a second).
const MANY: usize = 100;

pub(super) fn run(session: &mut Session<'_>, arguments: &CasesArguments) -> Result<ExitStatus> {
    let Some(book) = book(session) else {
        bail!("there is no home folder; name the folder of the cases with --book FOLDER");
    };
    can_be_read(&book)?;
    let Some(today) = handbook(session)? else {
        return Ok(ExitStatus::HandbookFaulty);
    };
    let rows = rows(session, &book, &today)?;
    let filter = Filter::of(arguments, &today, &rows)?;
    let listed = Listed::of(rows, &filter);
    if arguments.json {
        session.result(&json::list(&book, &listed).to_string())?;
    } else {
        told::list(session, &book, &listed)?;
    }
    Ok(ExitStatus::Settled)
}

/// A folder that isn't there holds no case; one that can't be looked into may hold many.
fn can_be_read(book: &Book) -> Result<()> {
    match std::fs::read_dir(book.folder()) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(error)
            .with_context(|| format!("the folder {} can't be read", book.folder().display())),
        _ => Ok(()),
    }
}

/// A row with its day.
pub(super) struct Dated {
    pub row: Row,
    /// The day that was given, else the one on which it was begun.
    pub day: Option<Date>,
}

/// What is listed.
pub(super) struct Listed {
    /// The latest day first.
    pub cases: Vec<Dated>,
    /// How many there are in all.
    pub all: usize,
    /// How many of all were closed.
    pub closed: usize,
    /// How many of all can't be read.
    pub unread: usize,
}

impl Listed {
    fn of(rows: Vec<Row>, filter: &Filter) -> Self {
        let (all, zone) = (rows.len(), system_zone());
        let readable = || rows.iter().filter(|row| row.told.handbook.is_some());
        let closed = readable().filter(|row| row.told.closing.is_some()).count();
        let unread = all - readable().count();
        let dated = rows.into_iter().map(|row| Dated { day: day(&row, &zone), row });
        let mut cases: Vec<Dated> = dated.filter(|dated| filter.keeps(dated)).collect();
        cases.sort_by(|a, b| {
            let key = |dated: &Dated| (dated.day, dated.row.told.begun);
            key(b).cmp(&key(a)).then_with(|| b.row.id.cmp(&a.row.id))
        });
        Self { cases, all, closed, unread }
    }
}

fn day(row: &Row, zone: &TimeZone) -> Option<Date> {
    let given = row.told.details.get(Detail::Date).and_then(|text| text.parse().ok());
    given.or_else(|| row.told.begun.map(|at| zone.to_datetime(at).date()))
}

/// A row for every case: from the index where that still holds, else read and judged.
fn rows(session: &mut Session<'_>, book: &Book, today: &Handbook) -> Result<Vec<Row>> {
    let Index { rows: mut known, damage } = book.index(today.hash());
    if let Some(why) = &damage {
        session.tell(&format!("The index of the cases can't be used ({why}); it is made anew."))?;
    }
    let (mut rows, mut changed): (Vec<Row>, Vec<CaseFile>) = (Vec::new(), Vec::new());
    for file in book.cases() {
        match known.remove(&file.id) {
            Some(row) => rows.push(row),
            None => changed.push(file),
        }
    }
    // What is left over of the index tells of cases that were taken away.
    if !changed.is_empty() || !known.is_empty() || damage.is_some() {
        judge(session, book, today, &changed, &mut rows)?;
        keep(session, book, &rows)?;
    }
    Ok(rows)
}

/// Adds the rows of cases that the index doesn't tell of.
fn judge(
    session: &mut Session<'_>,
    book: &Book,
    today: &Handbook,
    changed: &[CaseFile],
    rows: &mut Vec<Row>,
) -> Result<()> {
    if changed.len() > MANY {
        let many = count(changed.len(), "case");
        session.tell(&format!("{many} not in the index yet; each is read and judged once."))?;
    }
    let engine = Engine::new(today)?;
    let judges = Judges::new(book, today, &engine);
    in_order(
        changed,
        |file| judges.row(file),
        |row| {
            rows.push(row);
            Ok(())
        },
    )
}

/// Writes the index; where it can't be written, the list is as good.
fn keep(session: &mut Session<'_>, book: &Book, rows: &[Row]) -> Result<()> {
    match book.keep_index(rows) {
        Err(error) if book.folder().exists() => session.tell(&format!(
            "The index of the cases can't be kept ({error}); the next list reads them again."
        )),
        _ => Ok(()),
    }
}
