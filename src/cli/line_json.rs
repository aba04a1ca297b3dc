//! `--line-json`: another program drives a case, a line of JSON at a time.

use std::io::stdin;

use anyhow::Result;
use serde_json::json;

use super::concluding::status_of;
use super::exit::ExitStatus;
use super::resume::Waited;
use super::session::Session;
use crate::book::Journal;
use crate::case::{Case, KeepNothing, interview};
use crate::terminal::{PipedLines, Program, opened, verdict_line};

/// Lets a program carry a case on, and tells the verdict as the last line.
pub(super) fn converse(
    session: &mut Session<'_>,
    case: &mut Case<'_>,
    mut journal: Option<Journal>,
    waited: Option<Waited>,
) -> Result<ExitStatus> {
    let id = journal.as_ref().map(Journal::id);
    let path = journal.as_ref().map(|journal| journal.path().display().to_string());
    let mut first = opened(case, id.as_deref(), path.as_deref());
    first["waited_seconds"] = json!(waited.map(|waited| waited.passed.as_secs()));
    let mut lines = PipedLines::new(stdin().lock());
    let mut program = Program::new(&mut lines, session.out);
    program.tell(&first);
    let ending = match &mut journal {
        Some(journal) => interview(case, &mut program, journal),
        None => interview(case, &mut program, &mut KeepNothing),
    };
    let is_kept = journal.as_ref().is_none_or(|journal| journal.trouble().is_none());
    let status = match is_kept {
        true => status_of(case, &ending),
        false => ExitStatus::Unusable,
    };
    program.tell(&verdict_line(case, Some((&ending, status.number()))));
    Ok(status)
}
