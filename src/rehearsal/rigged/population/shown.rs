//! What the findings of a play came to, as the rig was at first.

use crate::case::Case;
use crate::handbook::FindingId;

/// A finding that said something in a play.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The finding.
    pub finding: FindingId,
    /// How much of the doubt lies on each outcome; the shares add up to 1.
    pub outcomes: Vec<f64>,
}

/// In how much of the doubt a finding must say something to be counted (limit of ours): where it
/// is as good as unread, what is left tells more of the doubt than of the rig.
const LEAST_TOLD: f64 = 0.5;

/// The findings that said something, each once: as it was seen before anything was repaired,
/// where it was seen again afterwards.
pub(super) fn shown_at_first(case: &Case<'_>) -> Vec<Shown> {
    let witnesses = &case.assessment().witnesses;
    let mut shown: Vec<Shown> = Vec::new();
    for is_past in [true, false] {
        for witness in witnesses.iter().filter(|one| one.is_past() == is_past && one.counts()) {
            let is_known = shown.iter().any(|known| known.finding == witness.finding);
            let number = case.handbook().finding(witness.finding).outcomes();
            let outcomes = witness.judged.outcomes();
            let outcomes = outcomes.and_then(|draws| shares(draws.values(), number));
            if let Some(outcomes) = outcomes.filter(|_| !is_known) {
                shown.push(Shown { finding: witness.finding, outcomes });
            }
        }
    }
    shown
}

/// The share of each outcome among the draws that have one; none where too few do.
fn shares(draws: &[Option<u16>], number: usize) -> Option<Vec<f64>> {
    let (mut counts, mut all) = (vec![0.0; number], 0.0);
    for outcome in draws {
        all += 1.0;
        if let Some(count) = outcome.and_then(|place| counts.get_mut(usize::from(place))) {
            *count += 1.0;
        }
    }
    let told: f64 = counts.iter().sum();
    (told > 0.0 && told >= LEAST_TOLD * all)
        .then(|| counts.iter().map(|count| count / told).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_as_good_as_unread_is_not_counted() {
        let told = |draws: &[Option<u16>]| shares(draws, 2);
        assert_eq!(told(&[Some(1), Some(1), Some(0), None]), Some(vec![1.0 / 3.0, 2.0 / 3.0]));
        assert_eq!(told(&[Some(1), None, None]), None);
        assert_eq!(told(&[]), None);
    }
}
