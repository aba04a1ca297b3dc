//! What each piece of evidence says by itself, with nothing else known.
//!
//! Beside the rest a piece may speak for a cause although by itself it speaks against it: where it
//! speaks more against the others. Whoever reads it as a reason has to be told which it is.
//!
//! By itself a piece speaks of few causes: those that its findings know, and those that bring them
//! or are brought by them. The others are independent of all these, so that they are left out.

use super::joint::Piece;
use super::network::{CauseModel, Evidence, FindingModel, Model, Network, Posterior};
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
/// The model is that of the weighed network.
pub(super) fn each_alone(model: &Model, weighed: &Weighed, now: &Now) -> Vec<Alone> {
    let Ok(before) = weighed.epochs.network().posterior(&weighed.odds, &[]) else {
        return Vec::new();
    };
    let nothing = now.nothing(&before);
    let alone =
        |piece: &Piece| Corner::of(model, &weighed.odds, piece)?.alone(now.nodes(), nothing);
    weighed.pieces.iter().filter_map(alone).collect()
}

/// The part of a network of which one piece of evidence speaks.
struct Corner<'p> {
    piece: &'p Piece,
    /// Its nodes, by their places in the whole, ascending.
    nodes: Vec<usize>,
    before: Posterior,
    after: Posterior,
}

impl<'p> Corner<'p> {
    /// None where the piece is impossible by itself.
    fn of(model: &Model, odds: &[f64], piece: &'p Piece) -> Option<Self> {
        let told = piece.witnesses.iter().map(|place| model.findings.get(*place));
        let told: Vec<&FindingModel> = told.collect::<Option<_>>()?;
        let nodes = connected(&model.causes, told.iter().flat_map(|told| spoken_of(told)));
        let place = |node: usize| nodes.binary_search(&node).unwrap_or_default();
        let cause = |node: &usize| CauseModel {
            prior: model.causes[*node].prior,
            brought_by: moved(&model.causes[*node].brought_by, place),
        };
        let finding = |told: &&FindingModel| FindingModel {
            background: told.background.clone(),
            shown_by: moved(&told.shown_by, place),
            hidden_by: moved(&told.hidden_by, place),
        };
        let network = Network::new(Model {
            causes: nodes.iter().map(cause).collect(),
            findings: told.iter().map(finding).collect(),
        });
        let network = network.ok()?;
        let odds: Vec<f64> = match odds {
            [] => Vec::new(),
            odds => nodes.iter().map(|node| odds[*node]).collect(),
        };
        let before = network.posterior(&odds, &[]).ok()?;
        let after = network.posterior(&odds, &[renamed(piece)]).ok()?;
        Some(Self { piece, nodes, before, after })
    }

    /// What the piece changes for these nodes of the whole; `nothing` is how probable it is there
    /// before the piece that none of them is there.
    fn alone(&self, now: &[usize], nothing: f64) -> Option<Alone> {
        let of_cause = |node: &usize| match self.nodes.binary_search(node) {
            Ok(place) => self.after.log_odds[place] - self.before.log_odds[place],
            Err(_) => 0.0,
        };
        let here: Vec<usize> =
            now.iter().filter_map(|node| self.nodes.binary_search(node).ok()).collect();
        let none = |posterior: &Posterior| 1.0 - posterior.any_of(&here);
        let rises = none(&self.after) / none(&self.before);
        Some(Alone {
            witnesses: self.piece.witnesses.clone(),
            for_causes: now.iter().map(of_cause).collect(),
            for_nothing: log_odds(nothing * rises) - log_odds(nothing),
        })
    }
}

/// The piece with its findings numbered as they come.
fn renamed(piece: &Piece) -> Evidence {
    match piece.evidence.clone() {
        Evidence::Seen { outcome, .. } => Evidence::Seen { finding: 0, outcome },
        Evidence::Likely { likelihood, .. } => Evidence::Likely { finding: 0, likelihood },
        Evidence::Joint { findings, patterns } => {
            Evidence::Joint { findings: (0..findings.len()).collect(), patterns }
        }
    }
}

/// The nodes that a finding speaks of.
fn spoken_of(told: &FindingModel) -> impl Iterator<Item = usize> {
    let shown = told.shown_by.iter().map(|(node, _)| *node);
    shown.chain(told.hidden_by.iter().map(|(node, _)| *node))
}

/// Some nodes, with all that bring them or are brought by them, on and on; ascending.
fn connected(causes: &[CauseModel], start: impl Iterator<Item = usize>) -> Vec<usize> {
    let mut is_in = vec![false; causes.len()];
    start.for_each(|node| is_in[node] = true);
    loop {
        let before = is_in.iter().filter(|is_in| **is_in).count();
        for (node, told) in causes.iter().enumerate() {
            for (by, _) in &told.brought_by {
                if is_in[node] || is_in[*by] {
                    (is_in[node], is_in[*by]) = (true, true);
                }
            }
        }
        if is_in.iter().filter(|is_in| **is_in).count() == before {
            return (0..causes.len()).filter(|node| is_in[*node]).collect();
        }
    }
}

/// The same numbers at other places.
fn moved<T: Clone>(told: &[(usize, T)], place: impl Fn(usize) -> usize) -> Vec<(usize, T)> {
    told.iter().map(|(node, number)| (place(*node), number.clone())).collect()
}

#[cfg(test)]
mod tests {
    use super::super::network::Pattern;
    use super::*;

    /// Four causes in a chain and apart, a finding that one of the chain shows and another hides:
    /// each piece alone changes what the posterior of the whole network says it does.
    #[test]
    fn a_corner_says_what_the_whole_does() {
        let causes = vec![brought_by(&[2]), brought_by(&[]), brought_by(&[]), brought_by(&[])];
        let finding = |shown: usize, hidden: usize| FindingModel {
            background: vec![0.9, 0.1],
            shown_by: vec![(shown, vec![0.3, 0.7])],
            hidden_by: vec![(hidden, 0.5)],
        };
        let model = Model { causes, findings: vec![finding(0, 1), finding(3, 0)] };
        let network = Network::new(model.clone()).unwrap();
        let (odds, now) = ([2.0, 0.5, 1.0, 3.0], [0, 1, 3]);
        let none = |posterior: &Posterior| 1.0 - posterior.any_of(&now);
        let before = network.posterior(&odds, &[]).unwrap();
        let patterns = vec![pattern(0.75, [1, 0]), pattern(0.25, [0, 1])];
        let pieces = [
            (vec![0], Evidence::Seen { finding: 0, outcome: 1 }),
            (vec![1], Evidence::Seen { finding: 1, outcome: 0 }),
            (vec![0, 1], Evidence::Joint { findings: vec![0, 1], patterns }),
        ];
        for (witnesses, evidence) in pieces {
            let after = network.posterior(&odds, std::slice::from_ref(&evidence)).unwrap();
            let piece = Piece { witnesses, evidence };
            let corner = Corner::of(&model, &odds, &piece).unwrap();
            let found = corner.alone(&now, none(&before)).unwrap();
            for (place, node) in now.iter().enumerate() {
                let whole = after.log_odds[*node] - before.log_odds[*node];
                assert!((found.for_causes[place] - whole).abs() < 1e-12, "{piece:?}, {node}");
            }
            let whole = log_odds(none(&after)) - log_odds(none(&before));
            assert!((found.for_nothing - whole).abs() < 1e-12, "{piece:?}");
        }
    }

    fn pattern(weight: f64, outcomes: [usize; 2]) -> Pattern {
        Pattern { weight, outcomes: outcomes.into_iter().map(Some).collect() }
    }

    fn brought_by(by: &[usize]) -> CauseModel {
        CauseModel { prior: 0.1, brought_by: by.iter().map(|by| (*by, 0.4)).collect() }
    }

    #[test]
    fn what_is_connected_comes_along_whichever_way_it_is_brought() {
        let causes = [brought_by(&[2]), brought_by(&[]), brought_by(&[3]), brought_by(&[])];
        assert_eq!(connected(&causes, [0].into_iter()), [0, 2, 3]);
        assert_eq!(connected(&causes, [3].into_iter()), [0, 2, 3]);
        assert_eq!(connected(&causes, [1].into_iter()), [1]);
    }
}
