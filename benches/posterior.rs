//! How long the network takes: a posterior, the next check, the ledger, compiling.
//!
//! The networks are random and seeded; `posterior_against_numpy.py` draws the same ones. Before
//! the timings, one line per network gives its marginals, so that both sides can be compared.

#![expect(clippy::unwrap_used, reason = "a benchmark's own input may stop it")]

use divan::{Bencher, black_box};
use dryhold::evidence::ledger::{LeaveOneOut, leave_one_out};
use dryhold::evidence::network::{CauseModel, Evidence, FindingModel, Model, Network, Posterior};
use std::io::Write;

const FINDINGS: usize = 40;

fn main() -> std::io::Result<()> {
    for (name, case) in [("all_parents", Case::new(12, 12)), ("four_parents", Case::new(12, 4))] {
        let posterior = case.posterior();
        writeln!(std::io::stdout(), "marginals {name} {:?}", posterior.marginals)?;
    }
    divan::main();
    Ok(())
}

/// A seeded random network of yes/no findings with every finding answered.
struct Case {
    model: Model,
    network: Network,
    evidence: Vec<Evidence>,
}

impl Case {
    /// With so many causes, of which the given number touch each finding.
    fn new(causes: usize, parents: usize) -> Self {
        let mut draws = Draws(1);
        let priors: Vec<f64> = (0..causes).map(|_| 0.02 + 0.28 * draws.chance()).collect();
        let findings = (0..FINDINGS).map(|_| finding(&mut draws, causes, parents)).collect();
        let evidence = (0..FINDINGS)
            .map(|finding| Evidence::Seen { finding, outcome: usize::from(draws.chance() < 0.5) })
            .collect();
        let model = Model {
            causes: priors.iter().map(|p| CauseModel { prior: *p, brought_by: vec![] }).collect(),
            findings,
        };
        let network = Network::new(model.clone()).unwrap();
        Self { model, network, evidence }
    }

    fn posterior(&self) -> Posterior {
        self.network.posterior(&[], &self.evidence).unwrap()
    }
}

/// A finding touched by causes that follow each other, the first drawn.
fn finding(draws: &mut Draws, causes: usize, parents: usize) -> FindingModel {
    let stays_away = 1.0 - (0.01 + 0.09 * draws.chance());
    let first = (draws.chance() * causes as f64) as usize;
    let shown_by = (0..parents)
        .map(|place| {
            let both_stay_away = stays_away * (1.0 - (0.05 + 0.9 * draws.chance()));
            ((first + place) % causes, vec![both_stay_away, 1.0 - both_stay_away])
        })
        .collect();
    FindingModel { background: vec![stays_away, 1.0 - stays_away], shown_by, hidden_by: vec![] }
}

/// A small generator with a fixed seed (splitmix64: Steele, Lea and Flood 2014, from memory).
struct Draws(u64);

impl Draws {
    fn chance(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

#[divan::bench(args = [12, 4], sample_count = 1000)]
fn posterior_of_12_causes_by_parents(bencher: Bencher<'_, '_>, parents: usize) {
    let case = Case::new(12, parents);
    bencher.bench_local(|| black_box(&case.network).posterior(&[], black_box(&case.evidence)));
}

/// The worst case: no finding was normal, so that every table is multiplied in.
#[divan::bench(args = [12, 4], sample_count = 1000)]
fn posterior_all_yes_by_parents(bencher: Bencher<'_, '_>, parents: usize) {
    let network = Case::new(12, parents).network;
    let evidence: Vec<Evidence> =
        (0..FINDINGS).map(|finding| Evidence::Seen { finding, outcome: 1 }).collect();
    bencher.bench_local(|| black_box(&network).posterior(&[], black_box(&evidence)));
}

/// What is left when there is nothing to multiply in.
#[divan::bench(sample_count = 1000)]
fn posterior_without_evidence(bencher: Bencher<'_, '_>) {
    let network = Case::new(12, 12).network;
    bencher.bench_local(|| black_box(&network).posterior(&[], &[]));
}

#[divan::bench(args = [14, 16, 18], sample_count = 30)]
fn posterior_with_6_parents_by_causes(bencher: Bencher<'_, '_>, causes: usize) {
    let case = Case::new(causes, 6);
    bencher.bench_local(|| black_box(&case.network).posterior(&[], black_box(&case.evidence)));
}

#[divan::bench(args = [12, 4])]
fn worth_of_40_findings_by_parents(bencher: Bencher<'_, '_>, parents: usize) {
    let case = Case::new(12, parents);
    let posterior = case.posterior();
    bencher.bench_local(|| -> f64 {
        let worth = |finding| black_box(&case.network).information(finding, &posterior);
        (0..FINDINGS).map(worth).sum()
    });
}

#[divan::bench(args = [12, 4])]
fn leave_one_out_ledger_by_parents(bencher: Bencher<'_, '_>, parents: usize) {
    let case = Case::new(12, parents);
    bencher.bench_local(|| -> LeaveOneOut {
        leave_one_out(black_box(&case.network), &[], &case.evidence).unwrap()
    });
}

#[divan::bench(args = [12, 4])]
fn compiling_by_parents(bencher: Bencher<'_, '_>, parents: usize) {
    let case = Case::new(12, parents);
    bencher
        .with_inputs(|| case.model.clone())
        .bench_local_values(|model| Network::new(model).unwrap());
}
