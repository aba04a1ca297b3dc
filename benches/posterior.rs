//! How long the network takes: a posterior, the next check, the ledger, compiling; and what would
//! change a decision, and the order of repairs.
//!
//! The networks are random and seeded; `posterior_against_numpy.py` and
//! `posterior_against_pyagrum.py` draw the same ones. Before the timings, one line per network
//! gives its marginals, so that both sides can be compared.

#![expect(clippy::unwrap_used, reason = "a benchmark's own input may stop it")]

use divan::{Bencher, black_box};
use dryhold::evidence::decision::Decisions;
use dryhold::evidence::ledger::{LeaveOneOut, leave_one_out};
use dryhold::evidence::network::{CauseModel, Evidence, FindingModel, Model, Network, Posterior};
use dryhold::evidence::plan::{Repair, plan};
use dryhold::evidence::what_if::{flips, same_decision};
use std::io::Write;

const FINDINGS: usize = 40;

fn main() -> std::io::Result<()> {
    for (name, case) in [("all_parents", Case::new(12, 12)), ("four_parents", Case::new(12, 4))] {
        let posterior = case.posterior();
        writeln!(std::io::stdout(), "marginals {name} {:?}", posterior.marginals)?;
    }
    let (network, evidence) = every_kind(&mut Draws(3));
    let posterior = network.posterior(&[], &evidence).unwrap();
    writeln!(std::io::stdout(), "every kind {:?}", posterior.marginals)?;
    divan::main();
    Ok(())
}

/// Causes that others bring, findings of three outcomes that a cause may hide, and answers that
/// are only likely: to be compared, not timed.
fn every_kind(draws: &mut Draws) -> (Network, Vec<Evidence>) {
    const CAUSES: usize = 8;
    let causes = (0..CAUSES).map(|cause| {
        let prior = 0.02 + 0.28 * draws.chance();
        let bringers =
            if cause > 2 && cause % 2 == 1 { vec![cause - 1, cause - 3] } else { vec![] };
        let brought = |by| (by, 1.0 - (1.0 - prior) * (1.0 - 0.8 * draws.chance()));
        CauseModel { prior, brought_by: bringers.into_iter().map(brought).collect() }
    });
    let causes = causes.collect();
    let (mut findings, mut evidence) = (Vec::new(), Vec::new());
    for finding in 0..12 {
        let background = three_outcomes(draws, 0.2);
        let first = (draws.chance() * CAUSES as f64) as usize;
        let shown_by = (0..3).map(|place| {
            let alone = three_outcomes(draws, 0.5);
            ((first + place) % CAUSES, furthest(&background, &alone))
        });
        let shown_by = shown_by.collect();
        let hidden_by = vec![((first + 3) % CAUSES, draws.chance()), (first, draws.chance())];
        findings.push(FindingModel { background, shown_by, hidden_by });
        evidence.push(if finding % 2 == 0 {
            Evidence::Seen { finding, outcome: (3.0 * draws.chance()) as usize }
        } else {
            Evidence::Likely { finding, likelihood: (0..3).map(|_| draws.chance()).collect() }
        });
    }
    (Network::new(Model { causes, findings }).unwrap(), evidence)
}

/// A distribution over three outcomes; each but the first has at most the given chance.
fn three_outcomes(draws: &mut Draws, most: f64) -> Vec<f64> {
    let (some, much) = (most * draws.chance(), most * draws.chance());
    vec![1.0 - some - much, some, much]
}

/// The distribution of the outcome further from normal of two.
fn furthest(one: &[f64], other: &[f64]) -> Vec<f64> {
    let mut furthest = vec![0.0; one.len()];
    for (place, chance) in one.iter().enumerate() {
        for (another, share) in other.iter().enumerate() {
            furthest[place.max(another)] += chance * share;
        }
    }
    furthest
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
        self.after(FINDINGS)
    }

    /// Once the first so many findings are answered.
    fn after(&self, answered: usize) -> Posterior {
        self.network.posterior(&[], &self.evidence[..answered]).unwrap()
    }

    /// Every cause calls for an action of its own.
    fn decisions(&self) -> Decisions {
        Decisions::new((0..self.network.causes()).map(|cause| vec![cause]).collect())
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
fn bits_of_3_findings_together_by_parents(bencher: Bencher<'_, '_>, parents: usize) {
    let case = Case::new(12, parents);
    let posterior = case.after(10);
    bencher.bench_local(|| {
        black_box(&case.network).information_together(&[20, 21, 22], black_box(&posterior))
    });
}

#[divan::bench(args = [12, 4])]
fn same_decision_over_4_findings_by_parents(bencher: Bencher<'_, '_>, parents: usize) {
    let case = Case::new(12, parents);
    let (decisions, posterior) = (case.decisions(), case.after(10));
    bencher.bench_local(|| {
        same_decision(black_box(&case.network), &decisions, &posterior, &[20, 21, 22, 23])
    });
}

/// All 40 findings, whether answered or not; where no single one changes the lead, ten of them
/// are taken in pairs.
#[divan::bench(args = [10, 40])]
fn flips_of_40_findings_by_answered(bencher: Bencher<'_, '_>, answered: usize) {
    let case = Case::new(12, 12);
    let (decisions, posterior) = (case.decisions(), case.after(answered));
    let open: Vec<usize> = (0..FINDINGS).collect();
    bencher.bench_local(|| flips(black_box(&case.network), &decisions, &posterior, &open));
}

/// Repairs that each may cure two causes, in the order to try, for 13 causes.
#[divan::bench]
fn order_of_20_repairs(bencher: Bencher<'_, '_>) {
    let states = Case::new(13, 6).after(10).states;
    let mut draws = Draws(2);
    let repairs: Vec<Repair> = (0..20)
        .map(|repair| Repair {
            minutes: 10.0 + 50.0 * draws.chance(),
            cures: vec![(repair % 13, 0.9 * draws.chance()), ((repair + 5) % 13, draws.chance())],
        })
        .collect();
    bencher.bench_local(|| plan(black_box(&states), &repairs, 1e6));
}

#[divan::bench(args = [12, 4])]
fn compiling_by_parents(bencher: Bencher<'_, '_>, parents: usize) {
    let case = Case::new(12, parents);
    bencher
        .with_inputs(|| case.model.clone())
        .bench_local_values(|model| Network::new(model).unwrap());
}
