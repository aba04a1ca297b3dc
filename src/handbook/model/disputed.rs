//! Which findings say nothing while readings under them can't all be, and what names rest on for
//! that.

use std::sync::Arc;

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

/// For each symbol, the questions with whose answers what it stands for may change: those that it
/// can be traced to, and those of the findings that may say that a reading among them can't be.
pub(super) fn questions_behind(parts: &Parts) -> Vec<Arc<[QuestionId]>> {
    let disputing: Vec<&Finding> =
        parts.findings.iter().filter(|finding| !finding.read_again.is_empty()).collect();
    parts.questions_under.iter().map(|under| behind(parts, &disputing, under)).collect()
}

fn behind(parts: &Parts, disputing: &[&Finding], under: &Arc<[QuestionId]>) -> Arc<[QuestionId]> {
    let mut all = under.to_vec();
    let mut left = disputing.to_vec();
    // What disputes rests on readings too, and those may be disputed by another finding.
    while let Some(place) =
        left.iter().position(|finding| finding.read_again.iter().any(|again| all.contains(again)))
    {
        let own = parts.questions_under.get(left.swap_remove(place).symbol.0 as usize);
        all.extend(own.into_iter().flat_map(|own| own.iter()).copied());
    }
    if all.len() == under.len() {
        return Arc::clone(under);
    }
    all.sort_unstable();
    all.dedup();
    all.into()
}
