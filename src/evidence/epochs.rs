//! Repairs: what was there before an action, and what is there after it.
//!
//! An action that may cure a cause opens a new epoch for it: a second node, "still there", which
//! the first one brings about with what the cure leaves over. A finding speaks about the epoch in
//! which its observations were last taken, so a reading from before the repair goes on speaking
//! about before. Epochs that no finding speaks about are folded together.

use std::cmp::Reverse;
use std::sync::Arc;

use super::engine::{Compiled, Engine};
use super::network::{CauseModel, FindingModel, MOST_CAUSES, Model, Network};
use super::witness::Witness;
use super::worksheet::Worksheet;
use crate::handbook::{CauseId, FindingId};

/// The network of a case, in which each cause may have several nodes.
#[derive(Debug)]
pub struct Epochs {
    compiled: Arc<Compiled>,
    chains: Vec<Vec<Version>>,
    /// The causes of which no repair is remembered, since there were too many.
    forgotten: Vec<CauseId>,
}

/// A cause from one place in the order of events on.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Version {
    /// Its node.
    node: usize,
    /// The place of the repair that began it; 0 for the first.
    from: usize,
    /// How often it is still there, if it was there before; 1 for the first.
    stays: f64,
}

impl Epochs {
    /// The network for what a worksheet holds. Without repairs it is the engine's own.
    #[must_use]
    pub fn of(engine: &Engine, sheet: &Worksheet<'_>, witnesses: &[Witness]) -> Self {
        let times = Times::of(sheet, witnesses);
        let mut chains: Vec<Vec<Version>> =
            sheet.handbook().cause_ids().map(|id| chain(sheet, id, &times)).collect();
        let forgotten = fold_to_fit(&mut chains);
        number(&mut chains);
        if chains.iter().all(|chain| chain.len() == 1) && witnesses.iter().all(|w| !w.is_past()) {
            return Self { compiled: Arc::clone(engine.own()), chains, forgotten };
        }
        let model = model(engine.model(), &chains, &times);
        match engine.repaired(model) {
            Ok(compiled) => Self { compiled, chains, forgotten },
            // Folded to fit, the model is as sound as the engine's own.
            Err(_) => {
                let compiled = Arc::clone(engine.own());
                Self { compiled, chains: single(&chains), forgotten }
            }
        }
    }

    /// The network.
    #[must_use]
    pub fn network(&self) -> &Network {
        &self.compiled.network
    }

    /// The model of the network.
    #[must_use]
    pub fn model(&self) -> &Model {
        &self.compiled.model
    }

    /// The node that says whether a cause is there now.
    #[must_use]
    pub fn now(&self, cause: CauseId) -> usize {
        self.chains[cause.index()].last().map_or(cause.index(), |version| version.node)
    }

    /// The nodes of a cause, the first one first.
    pub(super) fn nodes(&self, cause: CauseId) -> Vec<usize> {
        self.chains[cause.index()].iter().map(|version| version.node).collect()
    }

    /// The node that says whether a cause was there at first, if a repair has come since.
    #[must_use]
    pub fn at_first(&self, cause: CauseId) -> Option<usize> {
        let chain = &self.chains[cause.index()];
        (chain.len() > 1).then(|| chain[0].node)
    }

    /// The causes whose repairs are left out of the weighing, since it takes only so many nodes:
    /// what was read before them counts as if it spoke about now.
    #[must_use]
    pub fn forgotten(&self) -> &[CauseId] {
        &self.forgotten
    }

    /// The factors on the odds of each node, from those on each cause.
    #[must_use]
    pub fn odds(&self, of_causes: &[f64]) -> Vec<f64> {
        let mut odds = vec![1.0; self.network().causes()];
        for (chain, factor) in self.chains.iter().zip(of_causes) {
            odds[chain[0].node] = *factor;
        }
        odds
    }
}

/// When the observations behind each witness were made, and whom it speaks about.
#[derive(Debug)]
struct Times {
    of: Vec<(FindingId, Option<usize>)>,
    speaks_of: Vec<Vec<CauseId>>,
}

impl Times {
    fn of(sheet: &Worksheet<'_>, witnesses: &[Witness]) -> Self {
        let speaks_of = witnesses.iter().map(|witness| {
            let finding = sheet.handbook().finding(witness.finding);
            let shown = finding.shown_by.iter().map(|(cause, _)| *cause);
            shown.chain(finding.hidden_by.iter().map(|(cause, _)| *cause)).collect()
        });
        let of = witnesses.iter().map(|witness| (witness.finding, witness.observed)).collect();
        Self { of, speaks_of: speaks_of.collect() }
    }

    /// Whether some finding speaks about a cause between two places in the order.
    fn speak_between(&self, cause: CauseId, from: usize, until: usize) -> bool {
        self.of.iter().zip(&self.speaks_of).any(|((_, time), causes)| {
            time.is_some_and(|time| (from..until).contains(&time)) && causes.contains(&cause)
        })
    }
}

/// The epochs of a cause, without those that nothing speaks about.
fn chain(sheet: &Worksheet<'_>, cause: CauseId, times: &Times) -> Vec<Version> {
    let cured_by = &sheet.handbook().cause(cause).cured_by;
    let mut chain = vec![Version { node: 0, from: 0, stays: 1.0 }];
    for (action, order) in sheet.actions_done() {
        let Some((_, share)) = cured_by.iter().find(|(cure, _)| *cure == action) else { continue };
        let stays = 1.0 - share;
        let last = chain[chain.len() - 1];
        if chain.len() > 1 && !times.speak_between(cause, last.from, order) {
            let at = chain.len() - 1;
            chain[at] = Version { node: 0, from: order, stays: last.stays * stays };
        } else {
            chain.push(Version { node: 0, from: order, stays });
        }
    }
    chain
}

/// Folds the oldest epochs together while there are more nodes than can be weighed, those of the
/// cause with the most first; the causes of which no repair is left then.
fn fold_to_fit(chains: &mut [Vec<Version>]) -> Vec<CauseId> {
    let mut forgotten = Vec::new();
    while chains.iter().map(Vec::len).sum::<usize>() > MOST_CAUSES {
        let first_repair = |chain: &[Version]| chain.get(1).map(|version| Reverse(version.from));
        let place = (0..chains.len()).max_by_key(|&i| (chains[i].len(), first_repair(&chains[i])));
        let Some(place) = place.filter(|place| chains[*place].len() > 1) else { break };
        let folded = chains[place].remove(1);
        match chains[place].get_mut(1) {
            Some(next) => next.stays *= folded.stays,
            None => forgotten.push(CauseId::at(place)),
        }
    }
    forgotten.sort_unstable();
    forgotten
}

/// Gives every version its node: first the causes that no repair was made for, then the versions of
/// the others, so that the network can tell by the highest nodes alone most states that can't be.
/// Without repairs every cause is its own node.
fn number(chains: &mut [Vec<Version>]) {
    let (single, several): (Vec<_>, Vec<_>) = chains.iter_mut().partition(|chain| chain.len() == 1);
    let versions = single.into_iter().chain(several).flatten();
    versions.enumerate().for_each(|(node, version)| version.node = node);
}

fn single(chains: &[Vec<Version>]) -> Vec<Vec<Version>> {
    let mut single: Vec<Vec<Version>> = chains.iter().map(|chain| chain[..1].to_vec()).collect();
    number(&mut single);
    single
}

fn model(base: &Model, chains: &[Vec<Version>], times: &Times) -> Model {
    let nodes = chains.iter().map(Vec::len).sum();
    let mut causes = vec![CauseModel { prior: 0.0, brought_by: Vec::new() }; nodes];
    for (chain, told) in chains.iter().zip(&base.causes) {
        let first = |(by, share): &(usize, f64)| (chains[*by][0].node, *share);
        causes[chain[0].node] = CauseModel {
            prior: told.prior,
            brought_by: told.brought_by.iter().map(first).collect(),
        };
        for pair in chain.windows(2) {
            causes[pair[1].node].brought_by = vec![(pair[0].node, pair[1].stays)];
        }
    }
    let moved =
        |(id, time): &(FindingId, Option<usize>)| moved(&base.findings[id.index()], chains, *time);
    Model { causes, findings: times.of.iter().map(moved).collect() }
}

/// The finding with each cause's node of the epoch that it speaks about; one that is not known
/// yet will speak about now.
fn moved(finding: &FindingModel, chains: &[Vec<Version>], time: Option<usize>) -> FindingModel {
    let node = |cause: usize| {
        let chain = &chains[cause];
        let seen = chain.iter().rev().find(|version| time.is_none_or(|time| version.from <= time));
        seen.map_or(cause, |version| version.node)
    };
    FindingModel {
        background: finding.background.clone(),
        shown_by: finding.shown_by.iter().map(|(c, shares)| (node(*c), shares.clone())).collect(),
        hidden_by: finding.hidden_by.iter().map(|(c, share)| (node(*c), *share)).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn version(from: usize, stays: f64) -> Version {
        Version { node: 0, from, stays }
    }

    #[test]
    fn too_many_epochs_are_folded_from_the_oldest() {
        let mut chains = vec![vec![version(0, 1.0)]; 16];
        chains[3] = vec![version(0, 1.0), version(4, 0.5), version(9, 0.5), version(12, 0.2)];
        assert_eq!(fold_to_fit(&mut chains), []);
        assert_eq!(chains.iter().map(Vec::len).sum::<usize>(), MOST_CAUSES);
        assert_eq!(chains[3], [version(0, 1.0), version(9, 0.25), version(12, 0.2)]);
    }

    #[test]
    fn where_folding_is_not_enough_the_oldest_repairs_are_forgotten() {
        let mut chains = vec![vec![version(0, 1.0)]; 16];
        for (cause, from) in [(2, 7), (5, 4), (9, 6), (11, 8)] {
            chains[cause].push(version(from, 0.5));
        }
        assert_eq!(fold_to_fit(&mut chains), [CauseId::at(5), CauseId::at(9)]);
        let repaired = |cause: &usize| chains[*cause].len() == 2;
        assert_eq!((0..16).filter(repaired).collect::<Vec<_>>(), [2, 11]);
        let mut full = vec![vec![version(0, 1.0)]; MOST_CAUSES];
        full[17].push(version(3, 0.1));
        assert_eq!(fold_to_fit(&mut full), [CauseId::at(17)]);
    }

    #[test]
    fn a_finding_speaks_about_the_epoch_of_its_reading() {
        let mut chains = vec![vec![version(0, 1.0), version(5, 0.3)], vec![version(0, 1.0)]];
        number(&mut chains);
        let finding = FindingModel {
            background: vec![0.9, 0.1],
            shown_by: vec![(0, vec![0.2, 0.8])],
            hidden_by: vec![(1, 0.5)],
        };
        assert_eq!(moved(&finding, &chains, Some(4)).shown_by[0].0, 1);
        assert_eq!(moved(&finding, &chains, Some(6)).shown_by[0].0, 2);
        assert_eq!(moved(&finding, &chains, None).shown_by[0].0, 2);
        assert_eq!(moved(&finding, &chains, None).hidden_by[0].0, 0);
    }

    /// By hand: prior .5, seen .8 against .1 before the repair, which leaves .25 of it.
    #[test]
    fn what_was_and_what_is_are_told_apart() {
        let base = Model {
            causes: vec![CauseModel { prior: 0.5, brought_by: Vec::new() }],
            findings: vec![FindingModel {
                background: vec![0.9, 0.1],
                shown_by: vec![(0, vec![0.2, 0.8])],
                hidden_by: Vec::new(),
            }],
        };
        let mut chains = vec![vec![version(0, 1.0), version(5, 0.25)]];
        number(&mut chains);
        let times =
            Times { of: vec![(FindingId::at(0), Some(2))], speaks_of: vec![vec![CauseId::at(0)]] };
        let network = Network::new(model(&base, &chains, &times)).unwrap();
        let seen = super::super::network::Evidence::Seen { finding: 0, outcome: 1 };
        let posterior = network.posterior(&[], &[seen]).unwrap();
        let was = 0.4 / 0.45;
        assert!((posterior.marginals[0] - was).abs() < 1e-12);
        assert!((posterior.marginals[1] - was * 0.25).abs() < 1e-12);
    }
}
