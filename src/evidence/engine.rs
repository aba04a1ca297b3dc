//! A handbook's causes and findings as a network, compiled once per handbook.

use std::collections::BTreeSet;

use super::network::{CauseModel, FindingModel, Model, ModelError, Network};
use crate::handbook::{CauseId, FindingId, Handbook};

/// The network of a handbook, with what is needed to bring evidence to it.
#[derive(Clone, Debug)]
pub struct Engine {
    model: Model,
    network: Network,
    /// For each finding, the names of the doubts it can share with another.
    doubts: Vec<BTreeSet<String>>,
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
        let network = Network::new(model.clone())?;
        let doubts = handbook.finding_ids().map(|id| doubts_of(handbook, id)).collect();
        Ok(Self { model, network, doubts })
    }

    /// The model that the network was compiled from.
    #[must_use]
    pub fn model(&self) -> &Model {
        &self.model
    }

    /// The network: cause *i* and finding *i* of the handbook are its cause *i* and finding *i*.
    #[must_use]
    pub fn network(&self) -> &Network {
        &self.network
    }

    /// Whether two findings may be in doubt together, because an answer or an instrument stands
    /// behind both.
    #[must_use]
    pub fn share_a_doubt(&self, a: FindingId, b: FindingId) -> bool {
        !self.doubts[a.index()].is_disjoint(&self.doubts[b.index()])
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
