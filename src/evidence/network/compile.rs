//! A model made ready to answer.

use super::block::{Block, LOW};
use super::check::{check_causes, check_finding};
use super::fault::ModelError;
use super::finding::Finding;
use super::model::{FindingModel, Model};
use super::prior::Prior;
use super::scope::Scope;
use std::sync::Arc;

/// The most numbers (of 8 bytes each) that the tables of a network may hold together: half a
/// gibibyte. A choice of this program.
pub const MOST_NUMBERS: usize = 1 << 26;

/// Causes and findings with, for every finding, the probability of each outcome in each state.
///
/// Small tables are kept: only for the causes that touch the finding, and only of findings that
/// somebody has asked for. The same model always gives the same numbers to the bit.
#[derive(Clone, Debug)]
pub struct Network {
    pub(super) bits: usize,
    pub(super) prior: Arc<Prior>,
    /// Shared with the networks that differ from this one in a few.
    pub(super) findings: Vec<Arc<Finding>>,
}

impl Network {
    /// Compiles a model.
    ///
    /// # Errors
    /// The first fault of the model, see [`ModelError`].
    pub fn new(model: Model) -> Result<Self, ModelError> {
        check_causes(&model)?;
        let causes = model.causes.len();
        let bits = causes.max(LOW);
        let mut scopes = Vec::with_capacity(model.findings.len());
        let mut numbers = 0_usize;
        for (finding, told) in model.findings.iter().enumerate() {
            check_finding(finding, told, causes)?;
            let scope = Scope::new(bits, touched_by(told));
            let entries = scope.rows().saturating_mul(size_of::<Block>() / size_of::<f64>());
            numbers = numbers.saturating_add(entries.saturating_mul(told.background.len()));
            scopes.push(scope);
        }
        if numbers > MOST_NUMBERS {
            return Err(ModelError::TooLarge { numbers, most: MOST_NUMBERS });
        }
        let findings = scopes
            .into_iter()
            .zip(&model.findings)
            .enumerate()
            .map(|(finding, (scope, told))| {
                Finding::new(finding, scope, told, causes).map(Arc::new)
            })
            .collect::<Result<_, _>>()?;
        Ok(Self { bits, prior: Arc::new(Prior::new(bits, &model.causes)), findings })
    }

    /// The same network with other numbers in some of its findings, each by its place; everything
    /// else is shared. A place that holds no finding is passed over.
    ///
    /// # Errors
    /// The first fault of a finding that is put in, see [`ModelError`].
    pub(in crate::evidence) fn with_findings(
        &self,
        changed: &[(usize, FindingModel)],
    ) -> Result<Self, ModelError> {
        let mut network = self.clone();
        for (place, told) in changed {
            let Some(finding) = network.findings.get_mut(*place) else { continue };
            check_finding(*place, told, self.causes())?;
            let scope = Scope::new(self.bits, touched_by(told));
            *finding = Arc::new(Finding::new(*place, scope, told, self.causes())?);
        }
        Ok(network)
    }

    /// How many causes there are.
    #[must_use]
    pub fn causes(&self) -> usize {
        self.prior.causes()
    }

    /// How many findings there are.
    #[must_use]
    pub fn findings(&self) -> usize {
        self.findings.len()
    }

    /// How many outcomes a finding has; nothing for a finding that does not exist.
    #[must_use]
    pub fn outcomes(&self, finding: usize) -> Option<usize> {
        self.findings.get(finding).map(|finding| finding.outcomes())
    }

    /// The probability of an outcome in a state (bit `k` set: cause `k` is there); nothing for a
    /// finding, an outcome or a state that does not exist.
    #[must_use]
    pub fn chance(&self, finding: usize, outcome: usize, state: usize) -> Option<f64> {
        if state >> self.causes() != 0 {
            return None;
        }
        let finding = self.findings.get(finding)?;
        let row = finding.scope.row_of().get(state >> LOW)?;
        let rows = finding.tables().get(outcome)?;
        rows.get(*row as usize)?.get(state & ((1 << LOW) - 1)).copied()
    }
}

/// Every cause that shows as the finding or hides it.
fn touched_by(told: &FindingModel) -> impl Iterator<Item = usize> {
    let shown = told.shown_by.iter().map(|(cause, _)| *cause);
    shown.chain(told.hidden_by.iter().map(|(cause, _)| *cause))
}
