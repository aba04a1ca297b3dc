//! A handbook's causes and findings as a network, compiled once per handbook.

use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, PoisonError};

use super::network::{CauseModel, FindingModel, Model, ModelError, Network};
use super::way::Behind;
use crate::handbook::{CauseId, FindingId, Handbook, LookBack};

/// The network of a handbook, with what is needed to bring evidence to it.
#[derive(Debug)]
pub struct Engine {
    own: Arc<Compiled>,
    /// For each finding, the names of the doubts it can share with another.
    doubts: Vec<BTreeSet<String>>,
    /// The questions that trees ask behind an action.
    behind: Behind,
    /// For each finding, the earlier answers that it compares with.
    look_back: Vec<LookBack>,
    /// The latest network that a repair asked for: the answers after it ask for the same.
    latest: Mutex<Option<Arc<Compiled>>>,
}

/// A network, and the model that it was compiled from.
#[derive(Debug)]
pub(super) struct Compiled {
    pub(super) model: Model,
    pub(super) network: Network,
}

impl Engine {
    /// Compiles a handbook.
    ///
    /// # Errors
    /// [`ModelError`] if the causes can't be weighed together; a checked handbook never gives one.
    pub fn new(handbook: &Handbook) -> Result<Self, ModelError> {
        let model = Model {
            causes: handbook.cause_ids().map(|id| cause_model(handbook, id)).collect(),
            findings: handbook.finding_ids().map(|id| finding_model(handbook, id)).collect(),
        };
        let own = Arc::new(Compiled::of(model)?);
        let doubts = handbook.finding_ids().map(|id| doubts_of(handbook, id)).collect();
        let behind = Behind::of(handbook);
        let look_back =
            handbook.finding_ids().map(|id| LookBack::of_finding(handbook, id)).collect();
        Ok(Self { own, doubts, behind, look_back, latest: Mutex::new(None) })
    }

    /// The network of a case with repairs; compiled, unless the last one was of the same model.
    pub(super) fn repaired(&self, model: Model) -> Result<Arc<Compiled>, ModelError> {
        let latest = || self.latest.lock().unwrap_or_else(PoisonError::into_inner);
        let kept = latest().clone();
        if let Some(kept) = kept.filter(|kept| kept.model == model) {
            return Ok(kept);
        }
        let made = Arc::new(Compiled::of(model)?);
        *latest() = Some(Arc::clone(&made));
        Ok(made)
    }

    /// The model that the network was compiled from.
    #[must_use]
    pub fn model(&self) -> &Model {
        &self.own.model
    }

    /// The network: cause *i* and finding *i* of the handbook are its cause *i* and finding *i*.
    #[must_use]
    pub fn network(&self) -> &Network {
        &self.own.network
    }

    /// The same network, with its model.
    pub(super) fn own(&self) -> &Arc<Compiled> {
        &self.own
    }

    /// The questions that trees ask behind an action.
    pub(super) fn behind(&self) -> &Behind {
        &self.behind
    }

    /// The earlier answers that a finding compares with.
    pub(super) fn look_back(&self, finding: FindingId) -> &LookBack {
        &self.look_back[finding.index()]
    }

    /// Whether two findings may be in doubt together, because an answer or an instrument stands
    /// behind both.
    #[must_use]
    pub fn share_a_doubt(&self, a: FindingId, b: FindingId) -> bool {
        !self.doubts[a.index()].is_disjoint(&self.doubts[b.index()])
    }
}

impl Compiled {
    fn of(model: Model) -> Result<Self, ModelError> {
        Ok(Self { network: Network::new(model.clone())?, model })
    }
}

fn cause_model(handbook: &Handbook, id: CauseId) -> CauseModel {
    let brought_by = handbook
        .cause_ids()
        .flat_map(|other| {
            let brings = &handbook.cause(other).brings;
            brings
                .iter()
                .filter(|(brought, _)| *brought == id)
                .map(move |(_, p)| (other.index(), *p))
        })
        .collect();
    CauseModel { prior: handbook.cause(id).how_common, brought_by }
}

fn finding_model(handbook: &Handbook, id: FindingId) -> FindingModel {
    let finding = handbook.finding(id);
    FindingModel {
        background: finding.background.clone(),
        shown_by: finding.shown_by.iter().map(|(c, shares)| (c.index(), shares.clone())).collect(),
        hidden_by: finding.hidden_by.iter().map(|(c, p)| (c.index(), *p)).collect(),
    }
}

fn doubts_of(handbook: &Handbook, id: FindingId) -> BTreeSet<String> {
    let questions = handbook.questions_under(handbook.finding(id).symbol);
    let instruments = questions.iter().filter_map(|&q| handbook.question(q).instrument);
    let instruments = instruments.map(|i| format!("instrument {}", handbook.instrument(i).id));
    let answers = questions.iter().map(|&q| format!("question {}", handbook.question(q).id));
    instruments.chain(answers).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one_cause(prior: f64) -> Model {
        let causes = vec![CauseModel { prior, brought_by: Vec::new() }];
        Model { causes, findings: Vec::new() }
    }

    #[test]
    fn a_repaired_network_is_kept_until_another_model_is_asked_for() {
        let engine = Engine {
            own: Arc::new(Compiled::of(one_cause(0.5)).unwrap()),
            doubts: Vec::new(),
            behind: Behind::default(),
            look_back: Vec::new(),
            latest: Mutex::new(None),
        };
        let first = engine.repaired(one_cause(0.2)).unwrap();
        assert!(Arc::ptr_eq(&first, &engine.repaired(one_cause(0.2)).unwrap()));
        let other = engine.repaired(one_cause(0.3)).unwrap();
        let marginal = |kept: &Compiled| kept.network.posterior(&[], &[]).unwrap().marginals[0];
        assert!((marginal(&first) - 0.2).abs() < 1e-12 && (marginal(&other) - 0.3).abs() < 1e-12);
        assert!(engine.repaired(one_cause(2.0)).is_err());
    }
}
