//! Seeded random networks with evidence, ready to be told in another way.

use super::naive::{Draws, Naive, evidence};
use dryhold::evidence::network::{Evidence, Model, Network, Posterior};

/// A network with what is known of it.
pub struct Drawn {
    pub model: Model,
    /// Factors on the odds of each cause; none in half of the networks.
    pub odds: Vec<f64>,
    pub evidence: Vec<Evidence>,
    /// More draws of the same seed.
    pub draws: Draws,
}

impl Drawn {
    pub fn of(draws: &mut Draws) -> Self {
        let naive = Naive::random(draws);
        let odds: Vec<f64> = match draws.below(2) {
            0 => vec![],
            _ => naive.causes.iter().map(|_| 4.0 * draws.chance() + 0.05).collect(),
        };
        let evidence = evidence(draws, &naive);
        Self { model: naive.model(), odds, evidence, draws: Draws(draws.0) }
    }

    pub fn network(&self) -> Network {
        Network::new(self.model.clone()).unwrap()
    }

    pub fn posterior(&self) -> Posterior {
        self.network().posterior(&self.odds, &self.evidence).unwrap()
    }

    /// The findings that no piece of evidence is about.
    pub fn open(&self) -> Vec<usize> {
        let told: Vec<usize> = self.evidence.iter().flat_map(about).collect();
        (0..self.model.findings.len()).filter(|finding| !told.contains(finding)).collect()
    }
}

fn about(piece: &Evidence) -> Vec<usize> {
    match piece {
        Evidence::Seen { finding, .. } | Evidence::Likely { finding, .. } => vec![*finding],
        Evidence::Joint { findings, .. } => findings.clone(),
    }
}

/// Lets a check see a hundred networks of a seed.
pub fn each(seed: u64, check: impl Fn(&mut Drawn)) {
    for round in 0..100 {
        check(&mut Drawn::of(&mut Draws(seed * 1000 + round)));
    }
}

/// Where each of so many places goes: every order is possible.
pub fn permuted(draws: &mut Draws, places: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..places).collect();
    for last in (1..places).rev() {
        order.swap(last, draws.below(last + 1));
    }
    order
}
