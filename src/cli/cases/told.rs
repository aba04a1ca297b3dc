//! The list for people: two rows a case, and one more for each part of it that can't be read.

use anyhow::Result;
use jiff::civil::Date;
use unicode_width::UnicodeWidthStr;

use super::{Dated, Listed};
use crate::book::{Book, Outcome, Row};
use crate::case::{Closes, Detail, Stands};
use crate::cli::session::Session;
use crate::evidence::wording::in_words;
use crate::text::{capital, count, inert, list_and};

pub(super) fn list(session: &mut Session<'_>, book: &Book, listed: &Listed) -> Result<()> {
    let id = |dated: &Dated| one_row(&dated.row.id);
    let width = listed.cases.iter().map(|dated| id(dated).width()).max().unwrap_or(0);
    let mut text = String::new();
    for dated in &listed.cases {
        let id = id(dated);
        let blanks = " ".repeat(width - id.width());
        let lead = " ".repeat(width + 2);
        text.push_str(&format!("{id}{blanks}  {}\n", first(dated).trim_end()));
        for row in others(&dated.row) {
            text.push_str(&format!("{lead}{row}\n"));
        }
    }
    if !text.is_empty() {
        session.result(text.trim_end())?;
    }
    session.tell(&total(book, listed))
}

/// `open    2026-03-31  12 Mill Lane`
fn first(Dated { row, day }: &Dated) -> String {
    let Some(day) = day.filter(|_| row.told.handbook.is_some()) else {
        return "can't be read".to_owned();
    };
    let state = match (&row.told.closing, row.judged.work) {
        (Some(_), _) => "closed",
        (None, Some(Closes::Proved)) => "proved",
        (None, Some(Closes::Done)) => "done",
        (None, Some(Closes::Waits)) => "waits",
        (None, Some(Closes::Planned) | None) => "open",
    };
    let place = row.told.details.get(Detail::Place).map(one_row).unwrap_or_default();
    format!("{state:<6}  {}  {place}", shown(day))
}

fn shown(day: Date) -> String {
    day.to_string()
}

/// What leads it, how it was closed, and what can't be read.
fn others(row: &Row) -> Vec<String> {
    let mut rows = Vec::new();
    if row.told.handbook.is_some() {
        rows.extend(closed(row));
        rows.extend(to_be_closed(row));
        // Where the work is done, answers that speak for no cause are nothing to be told.
        if row.judged.work.is_none() || row.judged.outcome != Outcome::NoEvidence {
            rows.push(one_row(&capital(&outcome(&row.judged.outcome))));
        }
    }
    rows.extend(row.told.notices.iter().map(|notice| one_row(notice)));
    rows
}

fn closed(row: &Row) -> Option<String> {
    let closing = row.told.closing.as_ref()?;
    let fixed = row.told.fixed.as_deref().unwrap_or_default();
    Some(one_row(&capital(&closing.told(fixed))))
}

/// How a case whose work is at its end is closed.
fn to_be_closed(row: &Row) -> Option<String> {
    let id = &row.id;
    let work = row.judged.work.filter(|_| row.told.closing.is_none())?;
    let how = match work {
        Closes::Proved => format!("; dryhold close {id} closes it for the record"),
        Closes::Done => format!("; dryhold close {id} --fixed-by nothing closes it for the record"),
        Closes::Planned => String::new(),
        Closes::Waits => format!("; dryhold resume {id} goes on with it"),
    };
    Some(one_row(&(capital(Stands::AtItsEnd(work).told()) + &how)))
}

fn outcome(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Stopped { is_in_danger, so_far } => {
            let stands = if *is_in_danger { Stands::Stopped } else { Stands::Unacknowledged };
            let so_far = so_far.as_ref().map(|found| format!("; so far {}", self::outcome(found)));
            format!("{}{}", stands.told(), so_far.unwrap_or_default())
        }
        Outcome::NoEvidence => "no answer speaks for or against a cause yet".to_owned(),
        Outcome::Contradiction => "the answers can't all be true together".to_owned(),
        Outcome::Led { name, probability, mended, .. } => {
            let names: Vec<&str> = mended.iter().map(|named| named.name.as_str()).collect();
            let before = match names.is_empty() {
                true => String::new(),
                false => format!("mended: {}; now ", list_and(&names)),
            };
            format!("{before}{name}: {}", in_words(*probability))
        }
        Outcome::NotReadAgain(named) => format!("repaired, not read again: {}", named.name),
        Outcome::NotJudged(why) => format!("can't be judged: {why}"),
    }
}

/// A text of a person in one row, harmless to show.
fn one_row(text: &str) -> String {
    inert(&text.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// `12 cases: 9 open, 3 closed.`, with `2 of them listed.` where a filter left some out: what is open
/// and closed is counted in the whole book.
fn total(book: &Book, listed: &Listed) -> String {
    let Listed { cases, all, closed, unread } = listed;
    if *all == 0 {
        return format!("There is no case in {}", book.folder().display());
    }
    let open = all - closed - unread;
    let unread = if *unread > 0 { format!(", {unread} can't be read") } else { String::new() };
    let listed = match cases.len() {
        0 => " None of them is listed.".to_owned(),
        some if some < *all => format!(" {some} of them listed."),
        _ => String::new(),
    };
    format!("{}: {open} open, {closed} closed{unread}.{listed}", count(*all, "case"))
}
