//! Turns evidence into what it multiplies the states by.

use super::block::{Block, LANES, add, add_product, multiply};
use super::compile::Network;
use super::evidence::{Evidence, Impossible, Pattern};
use super::factor::Factor;
use super::finding::Finding;
use super::scope::Scope;
use std::collections::BTreeMap;
use std::ops::Range;

/// Evidence as factors on the states.
#[derive(Debug)]
pub(super) struct Prepared<'a> {
    pub(super) factors: Vec<Factor<'a>>,
    /// Which factors belong to each piece.
    pub(super) pieces: Vec<Range<usize>>,
    /// The natural logarithm of what the factors must be multiplied by together.
    pub(super) log_scale: f64,
}

impl Network {
    /// Turns evidence into factors.
    pub(super) fn prepare(&self, evidence: &[Evidence]) -> Result<Prepared<'_>, Impossible> {
        let mut reader = Reader {
            network: self,
            is_used: vec![false; self.findings.len()],
            prepared: Prepared {
                factors: Vec::with_capacity(evidence.len()),
                pieces: Vec::with_capacity(evidence.len()),
                log_scale: 0.0,
            },
        };
        for (piece, told) in evidence.iter().enumerate() {
            let start = reader.prepared.factors.len();
            match told {
                Evidence::Seen { finding, outcome } => reader.seen(piece, *finding, *outcome)?,
                Evidence::Likely { finding, likelihood } => {
                    reader.likely(piece, *finding, likelihood)?;
                }
                Evidence::Joint { findings, patterns } => {
                    reader.joint(piece, findings, patterns)?
                }
            }
            let end = reader.prepared.factors.len();
            reader.prepared.pieces.push(start..end);
        }
        Ok(reader.prepared)
    }
}

struct Reader<'a> {
    network: &'a Network,
    is_used: Vec<bool>,
    prepared: Prepared<'a>,
}

impl<'a> Reader<'a> {
    /// The finding, marked as used.
    fn take(&mut self, piece: usize, finding: usize) -> Result<&'a Finding, Impossible> {
        let Some(found) = self.network.findings.get(finding) else {
            return Err(Impossible::UnknownFinding { piece, finding });
        };
        if std::mem::replace(&mut self.is_used[finding], true) {
            return Err(Impossible::Repeated { piece, finding });
        }
        Ok(found)
    }

    fn seen(&mut self, piece: usize, finding: usize, outcome: usize) -> Result<(), Impossible> {
        let found = self.take(piece, finding)?;
        check_outcome(piece, finding, found, outcome)?;
        self.prepared.factors.push(found.factor(outcome));
        Ok(())
    }

    fn likely(
        &mut self,
        piece: usize,
        finding: usize,
        likelihood: &[f64],
    ) -> Result<(), Impossible> {
        let found = self.take(piece, finding)?;
        let outcomes = found.outcomes();
        if likelihood.len() != outcomes || !likelihood.iter().all(|l| is_share(*l)) {
            return Err(Impossible::Likelihood { piece, outcomes });
        }
        let largest = self.scale_by_largest(likelihood.iter())?;
        let mut rows = vec![[0.0; LANES]; found.scope.rows()];
        for (likelihood, chances) in likelihood.iter().zip(found.tables()) {
            for (row, chances) in rows.iter_mut().zip(chances) {
                add_product(row, chances, &[likelihood / largest; LANES]);
            }
        }
        self.prepared.factors.push(Factor::made(rows, &found.scope));
        Ok(())
    }

    fn joint(
        &mut self,
        piece: usize,
        findings: &[usize],
        patterns: &[Pattern],
    ) -> Result<(), Impossible> {
        let found: Vec<&Finding> =
            findings.iter().map(|finding| self.take(piece, *finding)).collect::<Result<_, _>>()?;
        check_patterns(piece, findings, &found, patterns)?;
        let largest = self.scale_by_largest(patterns.iter().map(|pattern| &pattern.weight))?;
        let mut shares: BTreeMap<&[Option<usize>], f64> = BTreeMap::new();
        for pattern in patterns.iter().filter(|pattern| pattern.weight > 0.0) {
            *shares.entry(&pattern.outcomes).or_insert(0.0) += pattern.weight / largest;
        }
        let mut uncertain = Vec::new();
        for (place, found) in found.iter().enumerate() {
            match certain(place, shares.keys()) {
                None => uncertain.push((place, *found)),
                Some(None) => {}
                Some(Some(outcome)) => self.prepared.factors.push(found.factor(outcome)),
            }
        }
        self.mix(&uncertain, &shares);
        Ok(())
    }

    /// The factor of findings that differ between the patterns.
    fn mix(
        &mut self,
        uncertain: &[(usize, &'a Finding)],
        shares: &BTreeMap<&[Option<usize>], f64>,
    ) {
        let total: f64 = shares.values().sum();
        self.prepared.log_scale += libm::log(total);
        if uncertain.is_empty() {
            return;
        }
        let high = uncertain.iter().flat_map(|(_, found)| found.scope.high().iter().copied());
        let scope = Scope::new(self.network.bits, high);
        let mix_at = |block| {
            let mut mixed = [0.0; LANES];
            for (outcomes, share) in shares {
                let mut product = [share / total; LANES];
                for (place, found) in uncertain {
                    if let Some(outcome) = outcomes[*place] {
                        multiply(&mut product, row_at(found, outcome, block));
                    }
                }
                add(&mut mixed, &product);
            }
            mixed
        };
        let rows = scope.first_block().into_iter().map(mix_at).collect();
        self.prepared.factors.push(Factor::owned(rows, scope));
    }

    /// The largest of some numbers, noted as taken out of the factors.
    fn scale_by_largest<'n>(
        &mut self,
        numbers: impl Iterator<Item = &'n f64>,
    ) -> Result<f64, Impossible> {
        let largest = numbers.fold(0.0_f64, |most, number| most.max(*number));
        if largest > 0.0 {
            self.prepared.log_scale += libm::log(largest);
            Ok(largest)
        } else {
            Err(Impossible::Contradiction)
        }
    }
}

fn row_at(found: &Finding, outcome: usize, block: usize) -> &Block {
    &found.tables()[outcome][found.scope.row_of()[block] as usize]
}

fn is_share(number: f64) -> bool {
    number >= 0.0 && number.is_finite()
}

fn check_outcome(
    piece: usize,
    finding: usize,
    found: &Finding,
    outcome: usize,
) -> Result<(), Impossible> {
    let outcomes = found.outcomes();
    if outcome < outcomes {
        Ok(())
    } else {
        Err(Impossible::UnknownOutcome { piece, finding, outcome, outcomes })
    }
}

fn check_patterns(
    piece: usize,
    findings: &[usize],
    found: &[&Finding],
    patterns: &[Pattern],
) -> Result<(), Impossible> {
    for pattern in patterns {
        if pattern.outcomes.len() != findings.len() || !is_share(pattern.weight) {
            return Err(Impossible::Patterns { piece, findings: findings.len() });
        }
        for ((finding, found), outcome) in findings.iter().zip(found).zip(&pattern.outcomes) {
            if let Some(outcome) = outcome {
                check_outcome(piece, *finding, found, *outcome)?;
            }
        }
    }
    Ok(())
}

/// What all patterns say of a finding, if they all say the same.
fn certain<'p>(
    place: usize,
    mut patterns: impl Iterator<Item = &'p &'p [Option<usize>]>,
) -> Option<Option<usize>> {
    let first = patterns.next()?[place];
    patterns.all(|outcomes| outcomes[place] == first).then_some(first)
}
