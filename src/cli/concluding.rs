//! How a case ends on a screen: its verdict, whole or in brief, and the exit status.

use anyhow::Result;

use super::exit::ExitStatus;
use super::session::{Session, painted};
use crate::case::{Case, Ending};
use crate::report::{Brevity, verdict, verdict_in_brief, verdict_json};
use crate::text::Line;

/// The most rows of a verdict that a terminal shows without being asked for all of it (limit of
/// ours: about what a person scrolls through standing up).
const MOST_ROWS: usize = 45;

/// What is printed of a verdict.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Form {
    /// As JSON.
    Json,
    /// All of it.
    Whole,
    /// All of it, but in brief where a terminal would have to scroll through more rows.
    AsItFits,
}

impl Form {
    /// As the arguments ask for it.
    pub fn of(json: bool, full: bool) -> Self {
        match (json, full) {
            (true, _) => Self::Json,
            (false, true) => Self::Whole,
            (false, false) => Self::AsItFits,
        }
    }
}

/// Prints the verdict and chooses the exit status. `rest` says how the whole of it is printed where
/// the brief one stands; where nothing can, the whole stands at once.
pub(super) fn conclude(
    session: &mut Session<'_>,
    case: &Case<'_>,
    ending: &Ending,
    form: Form,
    rest: Option<&str>,
) -> Result<ExitStatus> {
    match (form, ending) {
        (Form::Json, _) => session.result(&verdict_json(case, ending).to_string())?,
        (_, Ending::Interrupted) => session.say("Interrupted.")?,
        (form, _) => in_words(session, case, ending, rest.filter(|_| form == Form::AsItFits))?,
    }
    Ok(status_of(case, ending))
}

/// The exit status of a case that ended so.
pub(super) fn status_of(case: &Case<'_>, ending: &Ending) -> ExitStatus {
    match ending {
        Ending::Stopped(_) => ExitStatus::StoppedForSafety,
        Ending::Interrupted => ExitStatus::Interrupted,
        Ending::Done if case.is_settled() || case.work_closed().is_some() => ExitStatus::Settled,
        _ => ExitStatus::NotSettled,
    }
}

/// The verdict in words. Whoever pipes it on takes all of it.
fn in_words(
    session: &mut Session<'_>,
    case: &Case<'_>,
    ending: &Ending,
    rest: Option<&str>,
) -> Result<()> {
    let whole = verdict(case, ending);
    let paper = session.result_paper();
    let fits = |lines: &[Line]| painted(&paper, lines).lines().count() <= MOST_ROWS;
    let rest = rest.filter(|_| session.facts.stdout_is_terminal && !fits(&whole));
    let Some(rest) = rest else { return session.result_lines(&whole) };
    let in_brief = |brevity| verdict_in_brief(case, ending, brevity);
    let told = [Brevity::Brief, Brevity::Briefer].map(in_brief).into_iter().find(|told| fits(told));
    session.result_lines(&told.unwrap_or_else(|| in_brief(Brevity::Briefest)))?;
    session.say("")?;
    session.tell(
        "That is the verdict in brief. All of it, with the ranking, every reason and each repair \
         with its cautions:",
    )?;
    // Not wrapped, so that it can be copied as it stands.
    session.say(rest)
}
