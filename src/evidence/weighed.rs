//! A worksheet brought to its network: what every judgement on it starts from.

use super::engine::Engine;
use super::epochs::Epochs;
use super::joint::{Piece, gather};
use super::network::{Evidence, Network, Posterior};
use super::witness::{Witness, witnesses};
use super::worksheet::Worksheet;
use crate::formula::{Facts, Symbol, Truth, Value};

/// The evidence of a worksheet and what it makes of the causes.
pub(super) struct Weighed<'e> {
    pub witnesses: Vec<Witness>,
    pub pieces: Vec<Piece>,
    pub evidence: Vec<Evidence>,
    pub epochs: Epochs<'e>,
    /// Factors on the odds of each node.
    pub odds: Vec<f64>,
    /// What all the evidence says; what is so before any, where it contradicts itself.
    pub posterior: Posterior,
    pub contradicts_itself: bool,
}

impl<'e> Weighed<'e> {
    pub fn of(engine: &'e Engine, sheet: &Worksheet<'_>) -> Self {
        let witnesses = witnesses(sheet);
        let pieces = gather(engine, &witnesses);
        let evidence: Vec<Evidence> = pieces.iter().map(|piece| piece.evidence.clone()).collect();
        let epochs = Epochs::of(engine, sheet, &witnesses);
        let odds = epochs.odds(&history(sheet));
        let (posterior, contradicts_itself) = match epochs.network().posterior(&odds, &evidence) {
            Ok(posterior) => (posterior, false),
            Err(_) => (prior(epochs.network(), &odds), true),
        };
        Self { witnesses, pieces, evidence, epochs, odds, posterior, contradicts_itself }
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
