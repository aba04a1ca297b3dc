//! Earlier answers that a finding compares with: those that have to be given once more before it
//! can be told, and the repairs that have to be made.

use super::worksheet::Worksheet;
use crate::handbook::{LookBack, QuestionId};

/// The questions of which more than the one answer is wanted that a check brings, in the order
/// of the handbook; none where a repair has to be made first, which no check is.
pub(super) fn asked_again(look: &LookBack, sheet: &Worksheet<'_>) -> Option<Vec<QuestionId>> {
    let mut again: Vec<QuestionId> = Vec::new();
    for (action, question) in &look.around {
        let (_, done) = sheet.actions_done().filter(|(done, _)| done == action).last()?;
        let answers = || sheet.record().answers(*question).map(|(_, given)| given.order);
        if !answers().any(|order| order < done) {
            return None;
        }
        if !answers().any(|order| order > done) {
            again.push(*question);
        }
    }
    let lacks_two = |question: &&QuestionId| sheet.answers_that_hold(**question) < 2;
    again.extend(look.again.iter().filter(lacks_two));
    again.sort_unstable();
    again.dedup();
    Some(again)
}
