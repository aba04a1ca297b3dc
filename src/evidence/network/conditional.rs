//! What the states would weigh if findings that are open came out one way or another.

use super::block::{Block, LANES, LOW};
use super::compile::Network;
use super::outlook::bit_share;
use super::posterior::Posterior;

/// The most findings whose outcomes are taken together; each doubles the work (limit of ours).
pub const MOST_TOGETHER: usize = 8;

impl Network {
    /// The weight of every state times the probability of an outcome in it; their sum is the
    /// probability of that outcome if the weights sum to 1. Empty for a finding or an outcome
    /// that does not exist. `states` are those of a posterior of this network, or of this.
    #[must_use]
    pub fn given(&self, states: &[f64], finding: usize, outcome: usize) -> Vec<f64> {
        let Some(finding) = self.findings.get(finding) else { return Vec::new() };
        let Some(rows) = finding.tables().get(outcome) else { return Vec::new() };
        let mut weights = Vec::with_capacity(states.len());
        for (chunk, row) in states.chunks(LANES).zip(finding.scope.row_of()) {
            let chances = &rows[*row as usize];
            weights.extend(chunk.iter().zip(chances).map(|(state, chance)| state * chance));
        }
        weights
    }

    /// The probability of each outcome of a finding, by state; none for a finding that does not
    /// exist. A state that does not exist is never so.
    #[must_use]
    pub(in crate::evidence) fn chances_in(
        &self,
        finding: usize,
        states: &[usize],
    ) -> Vec<Vec<f64>> {
        let Some(finding) = self.findings.get(finding) else { return Vec::new() };
        let row_of = finding.scope.row_of();
        let chance = |rows: &[Block], state: usize| {
            let row = row_of.get(state >> LOW).map(|row| &rows[*row as usize]);
            row.map_or(0.0, |row| row[state & (LANES - 1)])
        };
        let column = |rows: &Vec<Block>| states.iter().map(|s| chance(rows, *s)).collect();
        finding.tables().iter().map(column).collect()
    }

    /// Calls a visitor with every set of outcomes that findings could have together and the
    /// weights of the states under it. Findings beyond the first [`MOST_TOGETHER`], and those
    /// that don't exist, are left out.
    pub fn each_outcome(
        &self,
        states: &[f64],
        findings: &[usize],
        visit: &mut dyn FnMut(&[usize], &[f64]),
    ) {
        let known = |finding: &usize| *finding < self.findings.len();
        let findings: Vec<usize> =
            findings.iter().copied().filter(known).take(MOST_TOGETHER).collect();
        self.walk(states, &findings, &mut Vec::new(), visit);
    }

    fn walk(
        &self,
        states: &[f64],
        left: &[usize],
        sofar: &mut Vec<usize>,
        visit: &mut dyn FnMut(&[usize], &[f64]),
    ) {
        let Some((finding, rest)) = left.split_first() else { return visit(sofar, states) };
        for outcome in 0..self.findings[*finding].outcomes() {
            let weights = self.given(states, *finding, outcome);
            sofar.push(outcome);
            self.walk(&weights, rest, sofar, visit);
            sofar.pop();
        }
    }

    /// How many bits the outcomes of findings would tell together, on average, about which state
    /// is the true one. Never more than their bits one by one together; of more than
    /// [`MOST_TOGETHER`] those that come first count. The posterior must be of this network.
    #[must_use]
    pub fn information_together(&self, findings: &[usize], posterior: &Posterior) -> f64 {
        if let [finding] = findings {
            return self.information(*finding, posterior);
        }
        let mut together = 0.0;
        self.each_outcome(&posterior.states, findings, &mut |_, weights| {
            together += bit_share(weights.iter().sum());
        });
        let known = findings.iter().take(MOST_TOGETHER);
        let alone: f64 = known.map(|finding| self.doubt_left(*finding, posterior)).sum();
        (together - alone).max(0.0)
    }
}
