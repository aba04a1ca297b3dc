//! Witnesses: findings as they stand, and as they stood before each repair.
//!
//! Each finding is a witness for what was last observed, and once more for what was observed
//! before the first action that came between: the high blank-off from before the oil change goes
//! on speaking about the oil that was in there. Observations between two repairs are left out: a
//! fault that no repair touched shows in all of them alike, and would be counted again each time.

use super::finding::Judged;
use super::worksheet::Worksheet;
use crate::handbook::FindingId;

/// One finding at one time.
#[derive(Clone, Debug)]
pub struct Witness {
    /// The finding.
    pub finding: FindingId,
    /// How it stands, or stood.
    pub judged: Judged,
    /// The place in the order at which its observations were last made, where it is known.
    pub observed: Option<usize>,
    /// The place in the order of the repair before which it speaks, where it has been observed
    /// anew since.
    pub before: Option<usize>,
}

/// Every witness: first each finding as it stands, in the order of the handbook, then those of
/// the past, oldest first. Findings that a better one replaces say nothing.
#[must_use]
pub fn witnesses(sheet: &Worksheet<'_>) -> Vec<Witness> {
    let mut all = standing(sheet);
    let mut from = 0;
    for deed in deeds(sheet) {
        let then = sheet.before_deed(deed);
        let replaced = replaced(&then);
        for finding in sheet.handbook().finding_ids().filter(|id| !replaced.contains(id)) {
            let observed = then.last_observed(finding);
            let is_of_this_stretch = observed.is_some_and(|at| (from..deed).contains(&at));
            let is_first = !all.iter().any(|w| w.is_past() && w.finding == finding);
            // Judging comes last, since it takes longest.
            let is_repaired = is_repaired_since(sheet, finding, deed);
            let is_new = is_first && is_repaired;
            let is_other = observed != all[finding.index()].observed;
            if is_of_this_stretch && is_new && is_other && then.may_speak(finding) {
                let judged = then.finding(finding);
                if judged.is_evidence() {
                    all.push(Witness { finding, judged, observed, before: Some(deed) });
                }
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
            let observed = if judged.is_evidence() { sheet.last_observed(finding) } else { None };
            Witness { finding, judged, observed, before: None }
        })
        .collect();
    for id in replaced(sheet) {
        standing[id.index()].observed = None;
    }
    standing
}

/// Findings in whose place a better one says something.
fn replaced(sheet: &Worksheet<'_>) -> Vec<FindingId> {
    let handbook = sheet.handbook();
    let better = |id: &FindingId| handbook.finding(*id).replaces.is_some();
    let says_something = |id: &FindingId| sheet.may_speak(*id) && sheet.finding(*id).is_evidence();
    let better = handbook.finding_ids().filter(better).filter(says_something);
    better.filter_map(|id| handbook.finding(id).replaces).collect()
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
        self.before.is_some()
    }
}
