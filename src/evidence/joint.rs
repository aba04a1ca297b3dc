//! From judged findings to evidence for the network.
//!
//! A finding that is the same in every draw is seen for certain. Findings in doubt that share an
//! answer or an instrument are brought together: each pattern of their outcomes counts by the
//! share of the draws that show it, so a shared gauge is not counted as two witnesses.

use std::collections::BTreeMap;

use super::engine::Engine;
use super::network::{Evidence, Pattern};
use super::witness::Witness;
use crate::formula::{DRAWS, Draws};
use crate::handbook::FindingId;

/// One piece of evidence and the witnesses that make it.
#[derive(Clone, Debug)]
pub struct Piece {
    /// The places of the witnesses behind it; the network knows each by its place.
    pub witnesses: Vec<usize>,
    /// What the network is told.
    pub evidence: Evidence,
}

/// All the evidence that witnesses give, in their order.
#[must_use]
pub fn gather(engine: &Engine, witnesses: &[Witness]) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut doubtful: Vec<Doubtful> = Vec::new();
    for (place, witness) in witnesses.iter().enumerate().filter(|(_, w)| w.counts()) {
        let Some(outcomes) = witness.judged.outcomes() else { continue };
        match certain(&outcomes) {
            Some(Some(outcome)) => pieces.push(seen(place, outcome)),
            Some(None) => {}
            None => doubtful.push(Doubtful { place, finding: witness.finding, outcomes }),
        }
    }
    pieces.extend(together(engine, doubtful).iter().map(|group| joint(group)));
    pieces
}

fn seen(place: usize, outcome: u16) -> Piece {
    let evidence = Evidence::Seen { finding: place, outcome: outcome.into() };
    Piece { witnesses: vec![place], evidence }
}

/// The outcome, if every draw shows the same.
fn certain(outcomes: &Draws<Option<u16>>) -> Option<Option<u16>> {
    let values = outcomes.values();
    values.iter().all(|value| value == &values[0]).then(|| values[0])
}

/// A witness whose outcome differs from draw to draw.
struct Doubtful {
    place: usize,
    finding: FindingId,
    outcomes: Draws<Option<u16>>,
}

/// Groups of findings connected by shared doubts.
fn together(engine: &Engine, doubtful: Vec<Doubtful>) -> Vec<Vec<Doubtful>> {
    let mut groups: Vec<Vec<Doubtful>> = Vec::new();
    for item in doubtful {
        let touches = |group: &Vec<Doubtful>| {
            group.iter().any(|other| engine.share_a_doubt(other.finding, item.finding))
        };
        let (touched, mut apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(touches);
        let mut merged: Vec<Doubtful> = touched.into_iter().flatten().collect();
        merged.push(item);
        apart.push(merged);
        groups = apart;
    }
    groups
}

fn joint(group: &[Doubtful]) -> Piece {
    let mut counted: BTreeMap<Vec<Option<usize>>, usize> = BTreeMap::new();
    for row in 0..DRAWS {
        let pattern = group.iter().map(|w| w.outcomes.at(row).map(usize::from)).collect();
        *counted.entry(pattern).or_default() += 1;
    }
    let patterns = counted
        .into_iter()
        .map(|(outcomes, count)| Pattern { weight: count as f64 / DRAWS as f64, outcomes })
        .collect();
    let witnesses: Vec<usize> = group.iter().map(|witness| witness.place).collect();
    let evidence = Evidence::Joint { findings: witnesses.clone(), patterns };
    Piece { witnesses, evidence }
}
