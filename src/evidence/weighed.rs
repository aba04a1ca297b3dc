//! A worksheet brought to its network: what every judgement on it starts from.

use std::sync::OnceLock;

use super::engine::Engine;
use super::epochs::Epochs;
use super::joint::{Piece, gather};
use super::left_out::{LeftOut, each_left_out_of};
use super::network::{Evidence, Network, Posterior, Whole};
use super::ranking::{Groups, Now};
use super::witness::{Witness, witnesses};
use super::worksheet::Worksheet;
use crate::formula::{Facts, Symbol, Truth, Value};

/// The evidence of a worksheet and what it makes of the causes.
#[derive(Debug)]
pub struct Weighed {
    pub(super) witnesses: Vec<Witness>,
    pub(super) pieces: Vec<Piece>,
    pub(super) evidence: Vec<Evidence>,
    pub(super) epochs: Epochs,
    /// Factors on the odds of each node.
    pub(super) odds: Vec<f64>,
    /// What all the evidence says; what is so before any, where it contradicts itself.
    pub(super) posterior: Posterior,
    pub(super) contradicts_itself: bool,
    /// The nodes that say what is there now.
    pub(super) now: Now,
    /// What calls for the same action.
    pub(super) groups: Groups,
    left_out: OnceLock<Vec<LeftOut>>,
    states_now: OnceLock<Vec<f64>>,
}

impl Weighed {
    /// Brings everything that a worksheet holds to its network.
    #[must_use]
    pub fn of(engine: &Engine, sheet: &Worksheet<'_>) -> Self {
        let witnesses = witnesses(sheet);
        let pieces = gather(engine, &witnesses);
        let evidence: Vec<Evidence> = pieces.iter().map(|piece| piece.evidence.clone()).collect();
        let epochs = Epochs::of(engine, sheet, &witnesses);
        let odds = epochs.odds(&history(sheet));
        let (posterior, contradicts_itself) = match epochs.network().posterior(&odds, &evidence) {
            Ok(posterior) => (posterior, false),
            Err(_) => (prior(epochs.network(), &odds), true),
        };
        let now = Now::of(sheet, &epochs);
        Self {
            groups: now.in_groups(sheet),
            now,
            witnesses,
            pieces,
            evidence,
            epochs,
            odds,
            posterior,
            contradicts_itself,
            left_out: OnceLock::new(),
            states_now: OnceLock::new(),
        }
    }

    /// For each piece of evidence what all the others say; nothing where the evidence contradicts
    /// itself, since then it rests on nothing and owes nothing to a piece. Worked out once.
    pub(super) fn left_out(&self) -> &[LeftOut] {
        let decisions = || self.groups.decisions();
        let found = || self.whole().map(|whole| each_left_out_of(&whole, &decisions()));
        self.left_out.get_or_init(|| found().unwrap_or_default())
    }

    /// The same, from all the evidence brought already.
    pub(super) fn left_out_of(&self, whole: &Whole<'_>) -> &[LeftOut] {
        self.left_out.get_or_init(|| each_left_out_of(whole, &self.groups.decisions()))
    }

    /// All pieces of evidence brought to the states of the network; none where the evidence
    /// contradicts itself.
    pub(super) fn whole(&self) -> Option<Whole<'_>> {
        self.epochs.network().whole(&self.odds, &self.evidence).ok()
    }

    /// The probability of every set of causes there now. Worked out once.
    pub(super) fn states_now(&self) -> &[f64] {
        self.states_now.get_or_init(|| self.now.states(&self.posterior))
    }
}

/// The probabilities before any evidence.
fn prior(network: &Network, odds: &[f64]) -> Posterior {
    network.posterior(odds, &[]).unwrap_or_else(|_| Posterior {
        states: Vec::new(),
        marginals: vec![0.0; network.causes()],
        log_odds: vec![f64::NEG_INFINITY; network.causes()],
        nothing: 0.0,
        evidence: 0.0,
        log_evidence: f64::NEG_INFINITY,
    })
}

/// What the past multiplies each cause's odds by; what is not known counts as 1.
fn history(sheet: &Worksheet<'_>) -> Vec<f64> {
    let causes = sheet.handbook().causes().iter();
    causes
        .map(|cause| {
            let factors = cause.history.iter();
            factors.map(|past| 1.0 + share_of_yes(sheet, past.when) * (past.factor - 1.0)).product()
        })
        .collect()
}

/// The share of the draws in which a yes or no is yes; 0 where it is not known.
pub(super) fn share_of_yes(sheet: &Worksheet<'_>, symbol: Symbol) -> f64 {
    match sheet.latest(symbol) {
        Value::Truth(draws) => {
            let values = draws.values();
            values.iter().filter(|&&t| t == Truth::Yes).count() as f64 / values.len() as f64
        }
        _ => 0.0,
    }
}
