//! Random networks and an enumeration that shares nothing with the network.
//!
//! The naive side tells the story behind the numbers instead of using the formulas: each cause
//! there and the background each draw an outcome of their own, the furthest from normal shows,
//! and each hiding cause tosses a coin that may bring it back to normal. Every combination is
//! walked.

use dryhold::evidence::network::{CauseModel, Evidence, FindingModel, Model, Pattern};

/// A small generator with a fixed seed (splitmix64: Steele, Lea and Flood 2014, from memory).
pub struct Draws(pub u64);

impl Draws {
    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn chance(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn below(&mut self, end: usize) -> usize {
        (self.bits() % end as u64) as usize
    }

    fn happens(&mut self, chance: f64) -> bool {
        self.chance() < chance
    }

    fn distribution(&mut self, outcomes: usize) -> Vec<f64> {
        let parts: Vec<f64> = (0..outcomes).map(|_| self.chance() + 0.01).collect();
        let total: f64 = parts.iter().sum();
        parts.iter().map(|part| part / total).collect()
    }
}

/// A finding as the naive side knows it: what each party draws by itself.
pub struct NaiveFinding {
    pub background: Vec<f64>,
    drawn_by: Vec<(usize, Vec<f64>)>,
    hidden_by: Vec<(usize, f64)>,
}

/// A cause as the naive side knows it: what brings it, its own prior not included.
pub struct NaiveCause {
    own: f64,
    brought_by: Vec<(usize, f64)>,
}

pub struct Naive {
    pub causes: Vec<NaiveCause>,
    pub findings: Vec<NaiveFinding>,
}

impl Naive {
    /// A network of at most eight causes, so that every combination can be walked.
    pub fn random(draws: &mut Draws) -> Self {
        let count = 1 + draws.below(8);
        Self::with(draws, count, 0.6)
    }

    /// A network of so many causes, of which about the given part touches each finding.
    pub fn with(draws: &mut Draws, count: usize, touching: f64) -> Self {
        let causes = (0..count)
            .map(|cause| NaiveCause {
                own: draws.chance(),
                // Brought by later causes too, so that no order is given away.
                brought_by: (0..count)
                    .filter(|by| (by * 7) % 11 < (cause * 7) % 11)
                    .filter(|_| draws.happens(0.3))
                    .collect::<Vec<_>>()
                    .into_iter()
                    .map(|by| (by, draws.chance()))
                    .collect(),
            })
            .collect();
        let findings =
            (0..2 + draws.below(5)).map(|_| NaiveFinding::random(draws, count, touching)).collect();
        Self { causes, findings }
    }

    pub fn model(&self) -> Model {
        let causes = self.causes.iter().map(|cause| CauseModel {
            prior: cause.own,
            brought_by: cause
                .brought_by
                .iter()
                .map(|(by, net)| (*by, 1.0 - (1.0 - cause.own) * (1.0 - net)))
                .collect(),
        });
        Model {
            causes: causes.collect(),
            findings: self.findings.iter().map(NaiveFinding::model).collect(),
        }
    }

    pub fn prior(&self, state: usize, odds: &[f64]) -> f64 {
        let mut chance = 1.0;
        for (cause, told) in self.causes.iter().enumerate() {
            let odds = odds.get(cause).unwrap_or(&1.0) * told.own / (1.0 - told.own);
            let mut away = 1.0 / (1.0 + odds);
            for (by, net) in &told.brought_by {
                if is_there(state, *by) {
                    away *= 1.0 - net;
                }
            }
            chance *= if is_there(state, cause) { 1.0 - away } else { away };
        }
        chance
    }

    /// The weight of the evidence in a state.
    fn weight(&self, state: usize, evidence: &[Evidence]) -> f64 {
        let chances: Vec<Vec<f64>> =
            self.findings.iter().map(|finding| finding.chances(state)).collect();
        evidence
            .iter()
            .map(|piece| match piece {
                Evidence::Seen { finding, outcome } => chances[*finding][*outcome],
                Evidence::Likely { finding, likelihood } => {
                    chances[*finding].iter().zip(likelihood).map(|(p, l)| p * l).sum()
                }
                Evidence::Joint { findings, patterns } => patterns
                    .iter()
                    .map(|pattern| {
                        let parts =
                            findings.iter().zip(&pattern.outcomes).map(|(finding, outcome)| {
                                outcome.map_or(1.0, |o| chances[*finding][o])
                            });
                        pattern.weight * parts.product::<f64>()
                    })
                    .sum(),
            })
            .product()
    }

    /// Every state's unnormalised weight.
    pub fn states(&self, odds: &[f64], evidence: &[Evidence]) -> Vec<f64> {
        (0..1 << self.causes.len())
            .map(|state| self.prior(state, odds) * self.weight(state, evidence))
            .collect()
    }
}

impl NaiveFinding {
    fn random(draws: &mut Draws, causes: usize, touching: f64) -> Self {
        let outcomes = 2 + draws.below(3);
        let background = draws.distribution(outcomes);
        let (mut drawn_by, mut hidden_by) = (Vec::new(), Vec::new());
        for cause in 0..causes {
            if !draws.happens(touching) {
                continue;
            }
            if draws.happens(0.7) {
                drawn_by.push((cause, draws.distribution(outcomes)));
            } else {
                hidden_by.push((cause, draws.chance()));
            }
        }
        Self { background, drawn_by, hidden_by }
    }

    fn model(&self) -> FindingModel {
        let compound = |drawn: &[f64]| {
            let mut compound = vec![0.0; drawn.len()];
            for (own, chance) in self.background.iter().enumerate() {
                for (caused, other) in drawn.iter().enumerate() {
                    compound[own.max(caused)] += chance * other;
                }
            }
            compound
        };
        FindingModel {
            background: self.background.clone(),
            shown_by: self.drawn_by.iter().map(|(by, drawn)| (*by, compound(drawn))).collect(),
            hidden_by: self.hidden_by.clone(),
        }
    }

    /// The probability of each outcome in a state, by walking every combination of draws.
    pub fn chances(&self, state: usize) -> Vec<f64> {
        let parties: Vec<&[f64]> = std::iter::once(&self.background[..])
            .chain(self.drawn_by.iter().filter(|(by, _)| is_there(state, *by)).map(|(_, d)| &d[..]))
            .collect();
        let mut shown = vec![0.0; self.background.len()];
        walk(&parties, 0, 1.0, &mut shown);
        for (_, chance) in self.hidden_by.iter().filter(|(by, _)| is_there(state, *by)) {
            let hidden: f64 = shown[1..].iter().map(|other| other * chance).sum();
            shown[1..].iter_mut().for_each(|other| *other *= 1.0 - chance);
            shown[0] += hidden;
        }
        shown
    }
}

fn walk(parties: &[&[f64]], furthest: usize, chance: f64, shown: &mut [f64]) {
    match parties.split_first() {
        None => shown[furthest] += chance,
        Some((party, rest)) => {
            for (outcome, part) in party.iter().enumerate() {
                walk(rest, furthest.max(outcome), chance * part, shown);
            }
        }
    }
}

pub fn is_there(state: usize, cause: usize) -> bool {
    state & (1 << cause) != 0
}

/// Random evidence: each finding seen, likely, joined with the next one, or left open.
pub fn evidence(draws: &mut Draws, naive: &Naive) -> Vec<Evidence> {
    let outcomes = |finding: usize| naive.findings[finding].background.len();
    let mut pieces = Vec::new();
    let mut finding = 0;
    while finding < naive.findings.len() {
        match draws.below(4) {
            0 => pieces.push(Evidence::Seen { finding, outcome: draws.below(outcomes(finding)) }),
            1 => {
                let likelihood = (0..outcomes(finding)).map(|_| 3.0 * draws.chance()).collect();
                pieces.push(Evidence::Likely { finding, likelihood });
            }
            2 => {
                let end = (finding + 1 + draws.below(3)).min(naive.findings.len());
                let findings: Vec<usize> = (finding..end).rev().collect();
                let patterns = patterns(draws, &findings, outcomes);
                pieces.push(Evidence::Joint { findings, patterns });
                finding = end;
                continue;
            }
            _ => {}
        }
        finding += 1;
    }
    pieces
}

/// Random patterns; some findings have the same outcome in all of them, some patterns repeat.
fn patterns(
    draws: &mut Draws,
    findings: &[usize],
    outcomes: impl Fn(usize) -> usize,
) -> Vec<Pattern> {
    let fixed: Vec<Option<usize>> = findings
        .iter()
        .map(|finding| draws.happens(0.3).then(|| draws.below(outcomes(*finding))))
        .collect();
    (0..1 + draws.below(6))
        .map(|_| Pattern {
            weight: draws.chance() + 0.01,
            outcomes: findings
                .iter()
                .zip(&fixed)
                .map(|(finding, fixed)| {
                    fixed.or_else(|| draws.happens(0.8).then(|| draws.below(outcomes(*finding))))
                })
                .collect(),
        })
        .collect()
}
