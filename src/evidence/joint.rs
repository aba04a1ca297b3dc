//! From judged findings to evidence for the network.
//!
//! A finding that is the same in every draw is seen for certain. Findings in doubt that share an
//! answer or an instrument are brought together: each pattern of their outcomes counts by the
//! share of the draws that show it, so a shared gauge is not counted as two witnesses.

use std::collections::BTreeMap;

use super::engine::Engine;
use super::finding::Judged;
use super::network::{Evidence, Pattern};
use super::worksheet::Worksheet;
use crate::formula::{DRAWS, Draws};
use crate::handbook::FindingId;

/// One piece of evidence and the findings that make it.
#[derive(Clone, Debug)]
pub struct Piece {
    /// The findings behind it.
    pub findings: Vec<FindingId>,
    /// What the network is told.
    pub evidence: Evidence,
}

/// All the evidence that a worksheet holds, in the order of the findings.
#[must_use]
pub fn gather(engine: &Engine, sheet: &Worksheet<'_>) -> Vec<Piece> {
    let handbook = sheet.handbook();
    let judged: Vec<(FindingId, Judged)> =
        handbook.finding_ids().map(|id| (id, sheet.finding(id))).collect();
    let is_known = |id: FindingId| judged[id.index()].1.outcomes().is_some();
    let is_replaced = |id: FindingId| {
        handbook.finding_ids().any(|b| handbook.finding(b).replaces == Some(id) && is_known(b))
    };
    let mut pieces = Vec::new();
    let mut doubtful: Vec<(FindingId, Draws<Option<u16>>)> = Vec::new();
    for (id, judged) in &judged {
        let Some(outcomes) = judged.outcomes().filter(|_| !is_replaced(*id)) else { continue };
        match certain(&outcomes) {
            Some(Some(outcome)) => pieces.push(seen(*id, outcome)),
            Some(None) => {}
            None => doubtful.push((*id, outcomes)),
        }
    }
    pieces.extend(together(engine, doubtful).iter().map(|group| joint(group)));
    pieces
}

fn seen(id: FindingId, outcome: u16) -> Piece {
    let evidence = Evidence::Seen { finding: id.index(), outcome: outcome.into() };
    Piece { findings: vec![id], evidence }
}

/// The outcome, if every draw shows the same.
fn certain(outcomes: &Draws<Option<u16>>) -> Option<Option<u16>> {
    let values = outcomes.values();
    values.iter().all(|value| value == &values[0]).then(|| values[0])
}

type Doubtful = (FindingId, Draws<Option<u16>>);

/// Groups of findings connected by shared doubts.
fn together(engine: &Engine, doubtful: Vec<Doubtful>) -> Vec<Vec<Doubtful>> {
    let mut groups: Vec<Vec<Doubtful>> = Vec::new();
    for item in doubtful {
        let touches =
            |group: &Vec<Doubtful>| group.iter().any(|(id, _)| engine.share_a_doubt(*id, item.0));
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
        let pattern = group.iter().map(|(_, draws)| draws.at(row).map(usize::from)).collect();
        *counted.entry(pattern).or_default() += 1;
    }
    let patterns = counted
        .into_iter()
        .map(|(outcomes, count)| Pattern { weight: count as f64 / DRAWS as f64, outcomes })
        .collect();
    let findings: Vec<FindingId> = group.iter().map(|(id, _)| *id).collect();
    let evidence =
        Evidence::Joint { findings: findings.iter().map(|f| f.index()).collect(), patterns };
    Piece { findings, evidence }
}
