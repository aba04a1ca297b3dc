//! Which findings say nothing while readings under them can't all be.

use super::handbook::Parts;
use super::{Finding, FindingId};
use crate::handbook::QuestionId;

/// For each finding those that dispute a reading under it. A finding that disputes is not disputed
/// itself.
pub(super) fn disputed_by(parts: &Parts) -> Vec<Vec<FindingId>> {
    let mut all = vec![Vec::new(); parts.findings.len()];
    let disputes = |finding: &Finding| !finding.read_again.is_empty();
    let disputing: Vec<usize> =
        (0..parts.findings.len()).filter(|&place| disputes(&parts.findings[place])).collect();
    if disputing.is_empty() {
        return all;
    }
    for (place, finding) in parts.findings.iter().enumerate() {
        let under = parts.questions_under.get(finding.symbol.0 as usize);
        let rests_on = |reading: &QuestionId| under.is_some_and(|under| under.contains(reading));
        let says_so = |other: &&usize| parts.findings[**other].read_again.iter().any(rests_on);
        if !disputes(finding) {
            all[place] = disputing.iter().filter(says_so).map(|&other| FindingId(other)).collect();
        }
    }
    all
}
