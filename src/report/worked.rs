//! Work that was done against a cause, as a reason why it is less likely now.

use super::marks::mark;
use crate::case::{Case, CauseId};
use crate::evidence::wording::{in_words, share};
use crate::handbook::ActionId;
use crate::text::{Line, list_and};

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
