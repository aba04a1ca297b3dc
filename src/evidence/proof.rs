//! Whether what was read since a repair bears out that it helped.
//!
//! How probable it is that a cause is gone may rest on the cure alone. Nobody should be told that
//! something is mended which was not read again, or still shows.

use super::finding::FindingState;
use super::witness::Witness;
use super::worksheet::Worksheet;
use crate::handbook::{CauseId, FindingId, QuestionId};

/// What bears out the repair of a cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// Nothing that would show the cause has been read since, or what was asked could not be told.
    NotRead,
    /// What showed the cause before a repair is found again.
    StillShows,
    /// What would show the cause was read since, and does not.
    Passed,
}

/// What bears out the last repair of a cause; none where none was made.
pub(super) fn proof(sheet: &Worksheet<'_>, witnesses: &[Witness], cause: CauseId) -> Option<Proof> {
    let handbook = sheet.handbook();
    let cured_by = &handbook.cause(cause).cured_by;
    let is_cure = |action| cured_by.iter().any(|(cure, _)| *cure == action);
    let repairs = sheet.actions_done().filter(|(action, _)| is_cure(*action));
    let last = repairs.map(|(_, order)| order).max()?;
    let shows = |witness: &&Witness| {
        let shown_by = &handbook.finding(witness.finding).shown_by;
        witness.counts() && shown_by.iter().any(|(shown, _)| *shown == cause)
    };
    let is_since = |witness: &&Witness| witness.observed.is_some_and(|at| at >= last);
    let holds = |witness: &&Witness| matches!(witness.judged.state, FindingState::True(_));
    let about: Vec<&Witness> = witnesses.iter().filter(shows).collect();
    let since: Vec<&Witness> = about.iter().copied().filter(is_since).collect();
    // What compares two readings may hold because the repair helped, so only what held before counts.
    let held_before = |finding| {
        let past = about.iter().filter(|witness| witness.is_past() && witness.finding == finding);
        past.copied().any(|witness| holds(&witness))
    };
    if since.iter().any(|witness| holds(witness) && held_before(witness.finding)) {
        return Some(Proof::StillShows);
    }
    let showed = about.iter().filter(|witness| !is_since(witness)).filter(|w| holds(w));
    let tested = |finding| sheet.handbook().questions_tested(finding);
    let in_vain = |id: QuestionId| sheet.said_nothing_since(id, last);
    let is_in_vain = |witness: &&Witness| tested(witness.finding).iter().copied().any(in_vain);
    let is_unread = since.is_empty() || showed.copied().any(|witness| is_in_vain(&witness));
    Some(match is_unread && !passed_in_a_round(sheet, cause, last) {
        true => Proof::NotRead,
        false => Proof::Passed,
    })
}

/// Whether a round that ended since a repair read what would show the cause, and found nothing:
/// that the next part is begun and not read yet takes nothing of that back.
fn passed_in_a_round(sheet: &Worksheet<'_>, cause: CauseId, repaired: usize) -> bool {
    let handbook = sheet.handbook();
    let shows = |finding: &FindingId| {
        handbook.finding(*finding).shown_by.iter().any(|(shown, _)| *shown == cause)
    };
    handbook.finding_ids().filter(shows).any(|finding| {
        sheet.rounds_observing(finding).into_iter().any(|ended| {
            let then = sheet.before_deed(ended);
            let is_since = then.last_observed(finding).is_some_and(|at| at >= repaired);
            is_since && matches!(then.finding(finding).state, FindingState::False(_))
        })
    })
}
