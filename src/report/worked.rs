//! Work that was done against a cause: what showed it before, and why it is less likely now.

use super::marks::mark;
use super::reasons::said;
use crate::case::{Case, CauseId};
use crate::evidence::wording::{in_words, share};
use crate::evidence::{FindingState, Witness};
use crate::handbook::ActionId;
use crate::text::{Line, Role, list_and};

/// The most that is told of what showed a cause before it was repaired (limit of ours).
const MOST_SHOWN: usize = 2;

/// What showed a cause before the last work that was done against it, the most telling first: the
/// place of a leak is in the verdict also when the leak is gone.
pub(super) fn shown_before(case: &Case<'_>, cause: CauseId) -> Option<Line> {
    let cured_by = &case.handbook().cause(cause).cured_by;
    let is_cure = |action: ActionId| cured_by.iter().any(|(cure, _)| *cure == action);
    let sheet = case.worksheet();
    let last = sheet.actions_done().filter(|(done, _)| is_cure(*done)).map(|(_, at)| at).max()?;
    let mut shown: Vec<(f64, &Witness)> = case
        .assessment()
        .witnesses
        .iter()
        .filter(|witness| witness.observed.is_some_and(|at| at < last))
        .filter_map(|witness| Some((times_as_often(case, witness, cause)?, witness)))
        .filter(|(times, _)| *times > 1.0)
        .collect();
    shown.sort_by(|(one, _), (other, _)| other.total_cmp(one));
    // Two readings of a kind may have said the same.
    let mut told: Vec<Line> = Vec::new();
    for (_, witness) in shown {
        let said = said(case, witness);
        if told.len() < MOST_SHOWN && !told.contains(&said) {
            told.push(said);
        }
    }
    let line = Line::new().push(Role::Quiet, "What showed it before the work:");
    let is_none = told.is_empty();
    let line = told.into_iter().fold(line, |line, said| line.push(Role::Plain, " ").join(said));
    (!is_none).then_some(line)
}

/// How many times as often a cause shows what was found as comes about with nothing wrong.
fn times_as_often(case: &Case<'_>, witness: &Witness, cause: CauseId) -> Option<f64> {
    let outcome = match witness.judged.state {
        FindingState::True(_) => 1,
        FindingState::Seen(choice) => usize::from(choice),
        _ => return None,
    };
    let finding = case.handbook().finding(witness.finding);
    let (_, shown) = finding.shown_by.iter().find(|(by, _)| *by == cause)?;
    Some(shown.get(outcome)? / finding.background.get(outcome)?)
}

/// That a cause is less likely to be there now because of what was done, with how often that takes
/// it away; none where nothing was done, or it is as likely as at first.
///
/// What shows that the work helped speaks for the cause, since it was there to be helped against,
/// and yet may leave less of it: nobody is left to wonder why the odds fell.
pub(super) fn worked_on(case: &Case<'_>, cause: CauseId) -> Option<Line> {
    let assessment = case.assessment();
    let was = assessment.was.iter().find(|was| was.cause == cause)?.probability;
    let now = assessment.probability(cause);
    if now >= was || in_words(was) == in_words(now) {
        return None;
    }
    let told: Vec<String> = cures_done(case, cause)
        .into_iter()
        .map(|(action, times, cured)| cure(case, action, times, cured))
        .collect();
    let mark = mark(case, &case.handbook().cause(cause).basis, "cured_by");
    let than = in_words(was);
    (!told.is_empty()).then(|| {
        Line::plain(format!(
            "- Since it was found, {} ({mark}). So it is less likely to be there now than at \
             first, which was {than}: what helped may have taken it all.",
            list_and(&told)
        ))
    })
}

/// `it was dried twice, which takes it away in about 4 in 10 each time`.
fn cure(case: &Case<'_>, action: ActionId, times: usize, cured: f64) -> String {
    let action = case.handbook().action(action);
    let done = action.once_done.clone().unwrap_or_else(|| format!("`{}` was done", action.id));
    let (often, each) = match times {
        1 => (String::new(), ""),
        2 => (" twice".to_owned(), " each time"),
        more => (format!(" {more} times"), " each time"),
    };
    format!("{done}{often}, which takes it away in {}{each}", share(cured))
}

/// The actions done that may cure a cause, in the order of their first time, with how many times
/// and how often each cures it.
fn cures_done(case: &Case<'_>, cause: CauseId) -> Vec<(ActionId, usize, f64)> {
    let cured_by = &case.handbook().cause(cause).cured_by;
    let mut done: Vec<(ActionId, usize, f64)> = Vec::new();
    for (action, _) in case.worksheet().actions_done() {
        let Some((_, cured)) = cured_by.iter().find(|(cure, _)| *cure == action) else { continue };
        match done.iter_mut().find(|(known, ..)| *known == action) {
            Some((_, times, _)) => *times += 1,
            None => done.push((action, 1, *cured)),
        }
    }
    done
}
