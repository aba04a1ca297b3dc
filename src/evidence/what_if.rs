//! What would change the decision: open findings that could.
//!
//! The *same-decision probability* is how probable it is that the decision stays as it is once
//! open findings are known (Chen, Choi and Darwiche, "The same-decision probability").

use super::decision::{Decisions, Lead};
use super::likely_states::{LikelyStates, sum};
use super::network::{Network, Posterior};

/// The most findings that are looked at in pairs (limit of ours; each pair costs four posteriors).
const MOST_PAIRED: usize = 10;

/// Outcomes of open findings under which something else would lead.
#[derive(Clone, Debug, PartialEq)]
pub struct Flip {
    /// The findings with their outcomes.
    pub outcomes: Vec<(usize, usize)>,
    /// How probable these outcomes are together.
    pub probability: f64,
    /// What would lead.
    pub lead: Lead,
}

/// How probable it is that what leads now still leads once these findings are known; of more
/// than [`MOST_TOGETHER`](super::network::MOST_TOGETHER) the first ones count. The posterior must be of this network.
#[must_use]
pub fn same_decision(
    network: &Network,
    decisions: &Decisions,
    posterior: &Posterior,
    open: &[usize],
) -> f64 {
    LikelyStates::all(network, decisions, &posterior.states).same_decision(open)
}

/// Single outcomes of open findings that would make something else lead, most probable first;
/// where there are none, pairs of outcomes.
#[must_use]
pub fn flips(
    network: &Network,
    decisions: &Decisions,
    posterior: &Posterior,
    open: &[usize],
) -> Vec<Flip> {
    LikelyStates::all(network, decisions, &posterior.states).flips(open)
}

impl LikelyStates<'_> {
    /// The same of these states, whose weights sum to 1.
    pub(super) fn same_decision(&self, open: &[usize]) -> f64 {
        let (now, _) = self.lead(self.weights());
        let mut same = 0.0;
        self.each_outcome(open, &mut |_, weights| {
            if self.lead(weights).0 == now {
                same += sum(weights);
            }
        });
        same.min(1.0)
    }

    /// The same of these states, whose weights sum to 1.
    pub(super) fn flips(&self, open: &[usize]) -> Vec<Flip> {
        let single: Vec<Vec<usize>> = open.iter().map(|finding| vec![*finding]).collect();
        let found = self.changes(&single);
        if !found.is_empty() {
            return found;
        }
        let paired = &open[..open.len().min(MOST_PAIRED)];
        let pairs = paired.iter().enumerate().flat_map(|(i, one)| {
            paired[i + 1..].iter().map(move |other| vec![*one, *other]).collect::<Vec<_>>()
        });
        self.changes(&pairs.collect::<Vec<_>>())
    }

    fn changes(&self, sets: &[Vec<usize>]) -> Vec<Flip> {
        let (now, _) = self.lead(self.weights());
        let mut found = Vec::new();
        for set in sets {
            self.each_outcome(set, &mut |outcomes, weights| {
                let probability = sum(weights);
                let (lead, _) = self.lead(weights);
                if lead != now && probability > 0.0 {
                    let outcomes = set.iter().copied().zip(outcomes.iter().copied()).collect();
                    found.push(Flip { outcomes, probability, lead });
                }
            });
        }
        found.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        found
    }
}
