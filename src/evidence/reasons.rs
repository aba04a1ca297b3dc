//! Reasons: what each piece of evidence does to the verdict, given all the rest.

use super::decision::{Decisions, Tally};
use super::joint::Piece;
use super::ledger::Weight;
use super::left_out::each_left_out;
use super::network::{Evidence, Network, Posterior};
use super::ranking::Now;

/// What one piece of evidence does for one explanation.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The places of the witnesses behind it.
    pub witnesses: Vec<usize>,
    /// The change in the explanation's log-odds that this evidence makes, given all the rest.
    pub weight: Weight,
}

/// A network with its evidence, to be weighed piece by piece.
#[derive(Clone, Copy, Debug)]
pub(super) struct Weighing<'a> {
    pub network: &'a Network,
    pub odds: &'a [f64],
    pub pieces: &'a [Piece],
    pub evidence: &'a [Evidence],
    /// What all the evidence says.
    pub posterior: &'a Posterior,
}

/// What speaks for and against each cause and nothing being wrong, strongest first.
#[derive(Clone, Debug)]
pub(super) struct Reasons {
    pub for_causes: Vec<Vec<Reason>>,
    pub for_nothing: Vec<Reason>,
}

impl Weighing<'_> {
    /// The reasons for and against each cause being there now, and for none of them. Evidence
    /// that contradicts itself gives no reasons.
    pub(super) fn reasons(&self, now: &Now) -> Reasons {
        let nodes = now.nodes();
        // The chance that none of the nodes is there, and the odds of each.
        let any = Decisions::new(vec![nodes.to_vec()]);
        let Ok(without) = each_left_out(self.network, &any, self.odds, self.evidence) else {
            return Reasons { for_causes: vec![Vec::new(); nodes.len()], for_nothing: Vec::new() };
        };
        let of_node = |&node: &usize| {
            let with_all = self.posterior.log_odds[node];
            self.sorted(without.iter().map(|rest| Weight::between(rest.log_odds[node], with_all)))
        };
        let nothing = log_odds(now.nothing(self.posterior));
        let of_nothing =
            without.iter().map(|rest| Weight::from_nats(nothing - log_odds(none(&rest.tally))));
        Reasons {
            for_causes: nodes.iter().map(of_node).collect(),
            for_nothing: self.sorted(of_nothing),
        }
    }

    fn sorted(&self, weights: impl Iterator<Item = Weight>) -> Vec<Reason> {
        let reason = |(piece, weight): (&Piece, Weight)| Reason {
            witnesses: piece.witnesses.clone(),
            weight,
        };
        let mut reasons: Vec<Reason> = self.pieces.iter().zip(weights).map(reason).collect();
        reasons.sort_by(|a, b| b.weight.nats().abs().total_cmp(&a.weight.nats().abs()));
        reasons
    }
}

/// The probability of nothing, where there is but one group to decide for.
fn none(tally: &Tally) -> f64 {
    tally.nothing / (tally.nothing + tally.groups.iter().sum::<f64>())
}

/// Held away from certainty, where the odds have no end.
pub(super) fn log_odds(probability: f64) -> f64 {
    let held = probability.clamp(1e-12, 1.0 - 1e-12);
    libm::log(held / (1.0 - held))
}
