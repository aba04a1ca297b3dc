//! What would be so without one piece of evidence: asked once for every piece, since it is what
//! reasons, what a verdict rests on and what it owes to a piece are all read off from.

use super::decision::{Decisions, Lead, Tally};
use super::network::{Evidence, Impossible, Network, Whole};
use std::collections::BTreeMap;

/// What all pieces of evidence but one say.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// The natural logarithm of the odds of each node of the network.
    pub log_odds: Vec<f64>,
    /// The weight of every decision, but for a common factor.
    pub tally: Tally,
    /// The weight of all states together, but for the same factor.
    pub total: f64,
}

/// For each piece of evidence, in order, what all the others say.
///
/// # Errors
/// As [`Network::posterior`] with all the pieces.
pub fn each_left_out(
    network: &Network,
    decisions: &Decisions,
    odds: &[f64],
    evidence: &[Evidence],
) -> Result<Vec<LeftOut>, Impossible> {
    Ok(each_left_out_of(&network.whole(odds, evidence)?, decisions))
}

/// The same, from all the evidence brought already.
pub(super) fn each_left_out_of(whole: &Whole<'_>, decisions: &Decisions) -> Vec<LeftOut> {
    whole.without_each(&mut |rest| LeftOut {
        log_odds: rest.log_odds(),
        tally: decisions.weights_of(rest.runs()),
        total: rest.total(),
    })
}

/// The pieces of evidence without which something else than what leads now would lead, by their
/// places, with what would.
#[must_use]
pub fn rests_on(now: Lead, left_out: &[LeftOut]) -> BTreeMap<usize, Lead> {
    let leads = left_out.iter().map(|rest| rest.tally.lead().0);
    leads.enumerate().filter(|(_, lead)| *lead != now).collect()
}
