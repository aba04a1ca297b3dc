//! What the evidence can't show as it would by itself: findings that a likely cause hides, and
//! findings that speak for one cause alone but are explained by another.

use super::alone::Alone;
use super::left_out::LeftOut;
use super::network::Evidence;
use super::ranking::Now;
use super::weighed::Weighed;
use super::worksheet::Worksheet;
use crate::handbook::{CauseId, FindingId};

/// From this probability on a cause is likely enough to hide something worth a word (`estimate`:
/// roughly even).
const LIKELY: f64 = 0.45;
/// Below this share a cause hides too little to be told (`estimate`).
const HIDES: f64 = 0.3;
/// A finding that weighs more than this by itself, in nats, and less than nothing beside the
/// others, is explained away (`estimate`: odds up by a third).
const SPEAKS: f64 = 0.3;
/// Causes less probable than this are not looked at (`estimate`).
const WORTH_NAMING: f64 = 0.02;

/// A finding that came out normal and that a likely cause hides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hidden {
    /// The finding.
    pub finding: FindingId,
    /// The cause that hides it.
    pub by: CauseId,
    /// How often it does.
    pub share: f64,
}

/// Evidence that speaks for a cause by itself and against it beside the rest.
#[derive(Clone, Debug, PartialEq)]
pub struct ExplainedAway {
    /// The places of the witnesses behind it.
    pub witnesses: Vec<usize>,
    /// The cause that it would speak for.
    pub cause: CauseId,
    /// The likelier cause that explains it.
    pub by: CauseId,
}

/// Findings that came out normal though a likely cause hides them.
pub(super) fn hidden(weighed: &Weighed, sheet: &Worksheet<'_>, now: &Now) -> Vec<Hidden> {
    let handbook = sheet.handbook();
    let is_likely =
        |cause: &CauseId| weighed.posterior.marginals[now.nodes()[cause.index()]] >= LIKELY;
    let came_out_normal = weighed.evidence.iter().filter_map(|piece| match piece {
        Evidence::Seen { finding, outcome: 0 } => weighed.witnesses.get(*finding),
        _ => None,
    });
    came_out_normal
        .filter(|witness| !witness.is_past())
        .flat_map(|witness| {
            let hidden_by = handbook.finding(witness.finding).hidden_by.iter();
            let strong = hidden_by.filter(|(cause, share)| *share >= HIDES && is_likely(cause));
            strong.map(|(by, share)| Hidden { finding: witness.finding, by: *by, share: *share })
        })
        .collect()
}

/// Evidence that a likelier cause explains.
pub(super) fn explained_away(
    weighed: &Weighed,
    now: &Now,
    each_alone: &[Alone],
    without: &[LeftOut],
) -> Vec<ExplainedAway> {
    let nodes = now.nodes();
    let marginals = &weighed.posterior.marginals;
    let Some(leader) = (0..nodes.len())
        .max_by(|a, b| marginals[nodes[*a]].total_cmp(&marginals[nodes[*b]]).then(b.cmp(a)))
    else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for (piece, rest) in weighed.pieces.iter().zip(without) {
        let Some(alone) = each_alone.iter().find(|alone| alone.witnesses == piece.witnesses) else {
            continue;
        };
        for (cause, &node) in nodes.iter().enumerate().filter(|(cause, _)| *cause != leader) {
            let by_itself = alone.for_causes[cause];
            let beside = weighed.posterior.log_odds[node] - rest.log_odds[node];
            let is_the_leaders = alone.for_causes[leader] > 0.0;
            let is_worth_it = marginals[node] >= WORTH_NAMING && is_the_leaders;
            if is_worth_it && by_itself > SPEAKS && beside < -0.1 {
                let (cause, by) = (CauseId::at(cause), CauseId::at(leader));
                found.push(ExplainedAway { witnesses: piece.witnesses.clone(), cause, by });
            }
        }
    }
    found
}
