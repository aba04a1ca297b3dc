//! Reasons: what each piece of evidence does to the verdict, given all the rest.

use super::joint::Piece;
use super::ledger::Weight;
use super::left_out::LeftOut;
use super::weighed::Weighed;

/// What one piece of evidence does for one explanation.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The places of the witnesses behind it.
    pub witnesses: Vec<usize>,
    /// The change in the explanation's log-odds that this evidence makes, given all the rest.
    pub weight: Weight,
}

/// What speaks for and against each cause and nothing being wrong, strongest first.
#[derive(Clone, Debug)]
pub struct Reasons {
    /// For each cause of the handbook, what speaks for it and against it.
    pub for_causes: Vec<Vec<Reason>>,
    /// What speaks for nothing being wrong and against it.
    pub for_nothing: Vec<Reason>,
}

/// The reasons for and against each cause being there now, and for none of them. Evidence that
/// contradicts itself gives no reasons.
#[must_use]
pub fn reasons(weighed: &Weighed) -> Reasons {
    let (posterior, without) = (&weighed.posterior, weighed.left_out());
    let of_node = |&node: &usize| {
        let with_all = posterior.log_odds[node];
        let weights = without.iter().map(|rest| Weight::between(rest.log_odds[node], with_all));
        sorted(&weighed.pieces, weights)
    };
    let nothing = log_odds(weighed.now.nothing(posterior));
    let of_nothing = without.iter().map(|rest| Weight::from_nats(nothing - log_odds(none(rest))));
    Reasons {
        for_causes: weighed.now.nodes().iter().map(of_node).collect(),
        for_nothing: sorted(&weighed.pieces, of_nothing),
    }
}

/// Reasons from the weight of each piece, the strongest first.
fn sorted(pieces: &[Piece], weights: impl Iterator<Item = Weight>) -> Vec<Reason> {
    let reason =
        |(piece, weight): (&Piece, Weight)| Reason { witnesses: piece.witnesses.clone(), weight };
    let mut reasons: Vec<Reason> = pieces.iter().zip(weights).map(reason).collect();
    reasons.sort_by(|a, b| b.weight.nats().abs().total_cmp(&a.weight.nats().abs()));
    reasons
}

/// The probability of nothing being wrong without a piece.
fn none(rest: &LeftOut) -> f64 {
    rest.tally.nothing / rest.total
}

/// Held away from certainty, where the odds have no end.
pub(super) fn log_odds(probability: f64) -> f64 {
    let held = probability.clamp(1e-12, 1.0 - 1e-12);
    libm::log(held / (1.0 - held))
}
