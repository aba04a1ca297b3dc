//! The next check worth making: expected information about the causes per minute.

use super::costs::Costs;
use super::engine::Engine;
use super::far_fetched::drop_far_fetched;
use super::finding::FindingState;
use super::hypothetical::repeated;
use super::look_back::asked_again;
use super::worksheet::Worksheet;
use crate::handbook::{FindingId, QuestionId};

/// A check that could still say something.
#[derive(Clone, Debug, PartialEq)]
pub struct NextCheck {
    /// The finding it would settle.
    pub finding: FindingId,
    /// The questions that are still open for it, in the order of the handbook.
    pub questions: Vec<QuestionId>,
    /// Those of them of which two answers are compared, so that only a tree that asks them again
    /// can settle it.
    pub again: Vec<QuestionId>,
    /// Expected information about the joint state of the causes, in bits.
    pub bits: f64,
    /// How long the open questions take together, in minutes, with what has to be done before
    /// they can be asked and does not stand yet.
    pub minutes: f64,
}

impl NextCheck {
    /// Bits a minute, by which checks are ranked.
    #[must_use]
    pub fn worth(&self) -> f64 {
        self.bits / self.minutes
    }
}

/// The checks that are still open, best first; those that would say nothing are left out. The
/// states are the probabilities of the sets of causes there now.
#[must_use]
pub(super) fn next_checks(
    engine: &Engine,
    sheet: &Worksheet<'_>,
    states: &[f64],
    costs: &Costs<'_>,
) -> Vec<NextCheck> {
    let look = |finding| open_check(engine, sheet, states, costs, finding);
    let mut checks: Vec<NextCheck> = sheet.handbook().finding_ids().filter_map(look).collect();
    // What has to be answered again is taken to come out as before, for all of them at once.
    let mut again: Vec<QuestionId> =
        checks.iter().flat_map(|check| &check.again).copied().collect();
    again.sort_unstable();
    again.dedup();
    let record = repeated(sheet.record(), &again);
    let once_more = sheet.gone_on(&record);
    checks.retain(|check| {
        let sheet = if check.again.is_empty() { sheet } else { &once_more };
        !is_ruled_out(sheet, check.finding)
    });
    drop_far_fetched(engine, sheet, states, &mut checks);
    checks.sort_by(|a, b| b.worth().total_cmp(&a.worth()).then(a.finding.cmp(&b.finding)));
    checks
}

/// A finding that is not told of what is there now, with what is open for it; nothing where that
/// would say nothing.
fn open_check(
    engine: &Engine,
    sheet: &Worksheet<'_>,
    states: &[f64],
    costs: &Costs<'_>,
    finding: FindingId,
) -> Option<NextCheck> {
    let state = sheet.finding(finding).state;
    let is_told = !matches!(state, FindingState::Unknown | FindingState::NotApplicable);
    // One that is told of the time before a repair is open once the repair has outdated it.
    if is_told && sheet.judges_here(finding) {
        return None;
    }
    let handbook = sheet.handbook();
    let again = asked_again(engine.look_back(finding), sheet)?;
    let mut questions = handbook.questions_under(handbook.finding(finding).symbol).to_vec();
    questions.retain(|question| sheet.is_unanswered(*question) || again.contains(question));
    if questions.is_empty() {
        return None;
    }
    // What is still open speaks about now, as in the engine's own network.
    let bits = engine.network().information_in(finding.index(), states);
    let minutes = costs.minutes(&questions);
    (bits > 1e-6).then_some(NextCheck { finding, questions, again, bits, minutes })
}

/// Whether what was answered decides that a finding doesn't apply, whatever is answered besides.
pub(super) fn is_ruled_out(sheet: &Worksheet<'_>, finding: FindingId) -> bool {
    let condition = sheet.handbook().finding(finding).only_if.as_ref();
    condition.is_some_and(|condition| sheet.decides(condition) == Some(false))
}
