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
    /// Whether it speaks about a time before a repair, and has been observed anew since.
    pub is_past: bool,
}

/// Every witness: first each finding as it stands, in the order of the handbook, then those of
/// the past, oldest first. Findings that a better one replaces say nothing.
#[must_use]
pub fn witnesses(sheet: &Worksheet<'_>) -> Vec<Witness> {
    let mut all = standing(sheet, false);
    let mut from = 0;
    for deed in deeds(sheet) {
        let then = sheet.before_deed(deed);
        for past in standing(&then, true) {
            let now = &all[past.finding.index()];
            let is_of_this_stretch = past.observed.is_some_and(|at| (from..deed).contains(&at));
            let is_first = !all.iter().any(|w| w.is_past && w.finding == past.finding);
            if is_of_this_stretch && is_first && past.observed != now.observed {
                all.push(past);
            }
        }
        from = deed;
    }
    all
}

/// Places in the order at which actions were done, each once, in order.
fn deeds(sheet: &Worksheet<'_>) -> Vec<usize> {
    let mut deeds: Vec<usize> = sheet.actions_done().map(|(_, order)| order).collect();
    deeds.dedup();
    deeds
}

fn standing(sheet: &Worksheet<'_>, is_past: bool) -> Vec<Witness> {
    let handbook = sheet.handbook();
    let mut standing: Vec<Witness> = handbook
        .finding_ids()
        .map(|finding| {
            let judged = sheet.finding(finding);
            let observed = judged.outcomes().and_then(|_| sheet.last_observed(finding));
            Witness { finding, judged, observed, is_past }
        })
        .collect();
    let replaced: Vec<FindingId> = standing
        .iter()
        .filter(|witness| witness.judged.outcomes().is_some())
        .filter_map(|witness| handbook.finding(witness.finding).replaces)
        .collect();
    if is_past {
        standing.retain(|witness| !replaced.contains(&witness.finding));
    } else {
        for id in replaced {
            standing[id.index()].observed = None;
        }
    }
    standing
}

impl Witness {
    /// Whether it says something that counts.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.observed.is_some()
    }
}
