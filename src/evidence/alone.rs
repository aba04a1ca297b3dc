//! What each piece of evidence says by itself, with nothing else known.
//!
//! Beside the rest a piece may speak for a cause although by itself it speaks against it: where it
//! speaks more against the others. Whoever reads it as a reason has to be told which it is.

use super::network::Network;
use super::ranking::Now;
use super::reasons::log_odds;
use super::weighed::Weighed;

/// One piece of evidence by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Alone {
    /// The places of the witnesses behind it.
    pub witnesses: Vec<usize>,
    /// What it changes in the log-odds of each cause being there now, in nats.
    pub for_causes: Vec<f64>,
    /// What it changes in the log-odds of nothing being wrong now, in nats.
    pub for_nothing: f64,
}

/// Every piece of evidence by itself, in the order of the evidence; none that is impossible alone.
pub(super) fn each_alone(network: &Network, weighed: &Weighed<'_>, now: &Now) -> Vec<Alone> {
    let (nodes, odds) = (now.nodes(), &weighed.odds);
    let Ok(before) = network.posterior(odds, &[]) else { return Vec::new() };
    let alone = |piece: &super::joint::Piece| {
        let after = network.posterior(odds, std::slice::from_ref(&piece.evidence)).ok()?;
        let of_cause = |&node: &usize| after.log_odds[node] - before.log_odds[node];
        Some(Alone {
            witnesses: piece.witnesses.clone(),
            for_causes: nodes.iter().map(of_cause).collect(),
            for_nothing: log_odds(now.nothing(&after)) - log_odds(now.nothing(&before)),
        })
    };
    weighed.pieces.iter().filter_map(alone).collect()
}
