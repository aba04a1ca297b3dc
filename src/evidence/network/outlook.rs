//! What a finding that is still open would bring.

use super::block::{Block, LANES, LOW, add_product, sum};
use super::compile::Network;
use super::finding::Finding;
use super::posterior::Posterior;

impl Network {
    /// The probability of each outcome of a finding, given what is known; empty for a finding
    /// that does not exist. The posterior must be of this network.
    #[must_use]
    pub fn predict(&self, finding: usize, posterior: &Posterior) -> Vec<f64> {
        let Some(finding) = self.findings.get(finding) else { return Vec::new() };
        finding.predict(&finding.scope.fold(&posterior.states))
    }

    /// How many bits the outcome of a finding would tell, on average, about which state is the
    /// true one; 0 for a finding that does not exist. The posterior must be of this network.
    ///
    /// It is the mutual information between the finding and the joint state, which sees what a
    /// finding tells about causes that explain each other away; the drop in the marginals'
    /// entropies would not.
    #[must_use]
    pub fn information(&self, finding: usize, posterior: &Posterior) -> f64 {
        self.information_in(finding, &posterior.states)
    }

    /// The same, of states whose weights sum to 1.
    #[must_use]
    pub fn information_in(&self, finding: usize, states: &[f64]) -> f64 {
        let Some(finding) = self.findings.get(finding) else { return 0.0 };
        let rows = finding.scope.fold(states);
        (bits(&finding.predict(&rows)) - finding.doubt_left(&rows)).max(0.0)
    }

    /// The bits by which the outcome of a finding would be uncertain if the state were known, on
    /// average; 0 for a finding that does not exist.
    pub(super) fn doubt_left(&self, finding: usize, posterior: &Posterior) -> f64 {
        let Some(finding) = self.findings.get(finding) else { return 0.0 };
        finding.doubt_left(&finding.scope.fold(&posterior.states))
    }
}

impl Finding {
    fn predict(&self, rows: &[Block]) -> Vec<f64> {
        self.tables().iter().map(|chances| dot(rows, chances)).collect()
    }

    fn doubt_left(&self, rows: &[Block]) -> f64 {
        dot(rows, self.doubt.get_or_init(|| self.doubts()))
    }

    fn doubts(&self) -> Vec<Block> {
        let mut doubts = vec![[0.0; LANES]; self.scope.rows()];
        for chances in self.tables() {
            for (doubts, chances) in doubts.iter_mut().zip(chances) {
                add_bit_shares(doubts, chances);
            }
        }
        doubts
    }
}

fn dot(one: &[Block], other: &[Block]) -> f64 {
    let mut products = [0.0; LANES];
    for (one, other) in one.iter().zip(other) {
        add_product(&mut products, one, other);
    }
    sum(&products)
}

/// The entropy of a distribution, in bits.
fn bits(chances: &[f64]) -> f64 {
    chances.iter().map(|chance| bit_share(*chance)).sum()
}

/// Adds the share of each chance. States that differ in a cause that the finding does not depend
/// on have the same, and seeing that takes less than a logarithm.
fn add_bit_shares(doubts: &mut Block, chances: &Block) {
    let mut shares = [0.0; LANES];
    for lane in 0..LANES {
        let without_one = (0..LOW).map(|cause| lane & !(1 << cause));
        let mut alike =
            without_one.filter(|&other| other < lane && chances[other] == chances[lane]);
        shares[lane] = alike.next().map_or_else(|| bit_share(chances[lane]), |other| shares[other]);
        doubts[lane] += shares[lane];
    }
}

pub(super) fn bit_share(chance: f64) -> f64 {
    if chance > 0.0 { -chance * libm::log2(chance) } else { 0.0 }
}
