//! When a case is settled: what leads is likely enough to act on, and nothing cheap that is still
//! open would change it.
//!
//! One rule for what is known now and for what would be known after a test.

use super::costs::Costs;
use super::decision::Lead;
use super::likely_states::{LikelyStates, sum};
use super::next_check::NextCheck;
use crate::handbook::QuestionId;

/// How likely the leading explanation must be before the case counts as settled; `estimate`:
/// the author's judgement of when acting beats asking.
pub const SETTLED_AT: f64 = 0.9;

/// How probable it must be besides that nothing cheap would change the lead; `estimate`.
pub const STAYS_AT: f64 = 0.9;

/// Up to this many minutes a check is cheap; `estimate`.
const CHEAP: f64 = 5.0;

/// How many cheap checks are looked at together (limit of ours; each doubles the work).
const MOST_CHEAP: usize = 4;

impl LikelyStates<'_> {
    /// Whether a case with these weights of the states is settled, while the findings at these
    /// places are cheap and open; they are asked for only where something leads by enough. The
    /// weights need not sum to 1.
    pub(super) fn are_settled(&self, weights: &[f64], open: impl FnOnce() -> Vec<usize>) -> bool {
        let total = sum(weights);
        let (lead, weight) = self.lead(weights);
        if weight < SETTLED_AT * total || total <= 0.0 {
            return false;
        }
        let telling = self.telling(weights, total, open());
        let mut stays =
            Stays { states: self, lead, needed: STAYS_AT * total, possible: total, kept: 0.0 };
        stays.look(weights, &telling);
        stays.kept >= stays.needed
    }

    /// The findings that tell most, of those given.
    fn telling(&self, weights: &[f64], total: f64, open: Vec<usize>) -> Vec<usize> {
        if open.len() <= MOST_CHEAP {
            return open;
        }
        let told = |place: &usize| (self.information(weights, total, *place), *place);
        let mut told: Vec<(f64, usize)> = open.iter().map(told).collect();
        told.sort_by(|a, b| b.0.total_cmp(&a.0));
        told.into_iter().take(MOST_CHEAP).map(|(_, place)| place).collect()
    }
}

/// Whether a lead stays, looked at one set of outcomes after another until it is known.
struct Stays<'a> {
    states: &'a LikelyStates<'a>,
    lead: Lead,
    /// The weight that must be kept.
    needed: f64,
    /// The weight that is kept or not looked at yet.
    possible: f64,
    /// The weight under which the lead was found to stay.
    kept: f64,
}

impl Stays<'_> {
    fn look(&mut self, weights: &[f64], open: &[usize]) {
        if self.kept >= self.needed || self.possible < self.needed {
            return;
        }
        let Some((finding, rest)) = open.split_first() else {
            let weight = sum(weights);
            if self.states.lead(weights).0 == self.lead {
                self.kept += weight;
            } else {
                self.possible -= weight;
            }
            return;
        };
        let outcomes = self.states.by_outcome(weights, *finding).into_iter();
        let mut outcomes: Vec<(f64, Vec<f64>)> =
            outcomes.map(|weights| (sum(&weights), weights)).collect();
        // The likeliest first, so that it is known soon.
        outcomes.sort_by(|a, b| b.0.total_cmp(&a.0));
        for (_, weights) in &outcomes {
            self.look(weights, rest);
        }
    }
}

/// The findings that are open and cheap once some questions have been answered, by their places.
pub(super) fn cheap_after(
    costs: &Costs<'_>,
    checks: &[NextCheck],
    answered: &[QuestionId],
) -> Vec<usize> {
    let is_cheap = |check: &&NextCheck| {
        let mut left = check.questions.clone();
        left.retain(|question| !answered.contains(question));
        !left.is_empty() && costs.minutes(&left) <= CHEAP
    };
    checks.iter().filter(is_cheap).map(|check| check.finding.index()).collect()
}
