//! Witnesses: findings as they stand, and as they stood before each repair.
//!
//! Each finding is a witness for what was last observed, and once more for what was observed
//! before the first action that came between: the high blank-off from before the oil change goes
//! on speaking about the oil that was in there. Observations between two repairs are left out: a
//! fault that no repair touched shows in all of them alike, and would be counted again each time.
//!
//! What is observed in rounds, part by part, is a witness for the latest part in which something was
//! found: that the next one is sound says nothing for the one before.

use super::finding::{FindingState, Judged};
use super::worksheet::Worksheet;
use crate::handbook::{FindingId, Observes};

/// One finding at one time.
#[derive(Clone, Debug)]
pub struct Witness {
    /// The finding.
    pub finding: FindingId,
    /// How it stands, or stood.
    pub judged: Judged,
    /// The place in the order at which its observations were last made, where it is known.
    pub observed: Option<usize>,
    /// As of when it is told.
    pub as_of: AsOf,
}

/// As of when a finding is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AsOf {
    /// As things stand.
    Now,
    /// As they stood before the round of another thing began, at this place in the order: what was
    /// found on one part stands while the next is read.
    BeforeRound(usize),
    /// As they stood before a repair, at this place in the order, and it has been observed anew
    /// since.
    BeforeRepair(usize),
}

/// Every witness: first each finding as it stands, in the order of the handbook, then those of
/// the past, oldest first. Findings that a better one replaces say nothing.
#[must_use]
pub fn witnesses(sheet: &Worksheet<'_>) -> Vec<Witness> {
    let mut all = standing(sheet);
    let mut from = 0;
    for deed in deeds(sheet) {
        let then = sheet.before_deed(deed);
        for finding in sheet.handbook().finding_ids() {
            let is_first = !all.iter().any(|w| w.is_past() && w.finding == finding);
            if !is_first || !is_repaired_since(sheet, finding, deed) {
                continue;
            }
            let observed = then.last_observed(finding);
            let is_of_this_stretch = observed.is_some_and(|at| (from..deed).contains(&at));
            let is_other = observed != all[finding.index()].observed;
            let may_speak = || then.may_speak(finding) && !is_replaced(&then, finding);
            if !is_of_this_stretch || !is_other || !may_speak() {
                continue;
            }
            // Judging comes last, since it takes longest.
            let judged = then.finding(finding);
            if judged.is_evidence() {
                all.push(Witness { finding, judged, observed, as_of: AsOf::BeforeRepair(deed) });
            }
        }
        from = deed;
    }
    all
}

/// Whether an action from this place on may have cured a cause that a finding speaks about: what
/// no repair touched shows in the later reading alike.
fn is_repaired_since(sheet: &Worksheet<'_>, finding: FindingId, deed: usize) -> bool {
    let handbook = sheet.handbook();
    let told = handbook.finding(finding);
    let shown = told.shown_by.iter().map(|(cause, _)| *cause);
    let mut causes = shown.chain(told.hidden_by.iter().map(|(cause, _)| *cause));
    causes.any(|cause| {
        let cured_by = &handbook.cause(cause).cured_by;
        let mut done = sheet.actions_done().filter(|(_, order)| *order >= deed);
        done.any(|(action, _)| cured_by.iter().any(|(cure, _)| *cure == action))
    })
}

/// Places in the order at which actions were done, each once, in order.
fn deeds(sheet: &Worksheet<'_>) -> Vec<usize> {
    let mut deeds: Vec<usize> = sheet.actions_done().map(|(_, order)| order).collect();
    deeds.dedup();
    deeds
}

fn standing(sheet: &Worksheet<'_>) -> Vec<Witness> {
    let handbook = sheet.handbook();
    let mut standing: Vec<Witness> = handbook
        .finding_ids()
        .map(|finding| {
            let judged = sheet.finding(finding);
            if let Some(shown) = shown_in_a_round(sheet, finding, &judged) {
                return shown;
            }
            let observed = if judged.is_evidence() { sheet.last_observed(finding) } else { None };
            Witness { finding, judged, observed, as_of: AsOf::Now }
        })
        .collect();
    for id in replaced(sheet) {
        standing[id.index()].observed = None;
    }
    standing
}

/// A finding as an earlier round left it, where something was found in that round, and the last one
/// read found nothing or tells nothing: that the next part is sound mends none before it. A repair
/// since the round's last reading that may have cured it ends this.
fn shown_in_a_round(sheet: &Worksheet<'_>, finding: FindingId, now: &Judged) -> Option<Witness> {
    let is_yes_or_no = matches!(sheet.handbook().finding(finding).observes, Observes::When(_));
    if !is_yes_or_no || matches!(now.state, FindingState::True(_)) {
        return None;
    }
    let latest = sheet.last_observed(finding);
    sheet.rounds_observing(finding).into_iter().find_map(|ended| {
        let then = sheet.before_deed(ended);
        let observed = then.last_observed(finding);
        if observed == latest || is_repaired_since(sheet, finding, observed?) {
            return None;
        }
        // Judging comes last, since it takes longest.
        let judged = then.finding(finding);
        let as_of = AsOf::BeforeRound(ended);
        let stands = matches!(judged.state, FindingState::True(_));
        stands.then_some(Witness { finding, judged, observed, as_of })
    })
}

/// Findings in whose place a better one says something.
fn replaced(sheet: &Worksheet<'_>) -> Vec<FindingId> {
    sheet.handbook().finding_ids().filter(|id| is_replaced(sheet, *id)).collect()
}

/// Whether a better finding says something in the place of one.
fn is_replaced(sheet: &Worksheet<'_>, finding: FindingId) -> bool {
    let handbook = sheet.handbook();
    let mut better =
        handbook.finding_ids().filter(|id| handbook.finding(*id).replaces == Some(finding));
    better.any(|id| sheet.may_speak(id) && sheet.finding(id).is_evidence())
}

impl Witness {
    /// Whether it says something that counts.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.observed.is_some()
    }

    /// Whether it speaks about a time before a repair, and has been observed anew since.
    #[must_use]
    pub fn is_past(&self) -> bool {
        matches!(self.as_of, AsOf::BeforeRepair(_))
    }
}
