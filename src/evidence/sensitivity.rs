//! How far a number of the author may be off before something else leads.
//!
//! The weight of every decision is linear in each strength and each base rate of a model, so two
//! posteriors give the whole line, and the place where two lines cross (Castillo, Gutierrez and
//! Hadi 1997, from memory).

use super::decision::{Decisions, Lead};
use super::network::{Evidence, Model, Network};

/// A number of a model.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Parameter {
    /// How common a cause is.
    Prior {
        /// The cause.
        cause: usize,
    },
    /// How often a cause shows as the last outcome of a yes/no finding.
    Strength {
        /// The finding.
        finding: usize,
        /// The cause.
        cause: usize,
    },
}

/// The place at which another decision takes the lead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Which number.
    pub parameter: Parameter,
    /// What the author says.
    pub stated: f64,
    /// Where the lead changes.
    pub at: f64,
    /// What leads beyond.
    pub lead: Lead,
}

/// The nearest place on either side at which another decision leads, within what the number may
/// be: above the background and below 1. None where the lead stays, or the model has no such
/// number.
#[must_use]
pub fn crossing(
    model: &Model,
    decisions: &Decisions,
    odds: &[f64],
    evidence: &[Evidence],
    parameter: Parameter,
) -> Option<Crossing> {
    let (stated, low, high) = bounds(model, parameter)?;
    let at = |value: f64| {
        let network = Network::new(with(model, parameter, value)?).ok()?;
        let posterior = network.posterior(odds, evidence).ok()?;
        // A past makes the chances of a cause share a denominator that moves with its base rate.
        let shared = match parameter {
            Parameter::Prior { cause } => 1.0 + value * (odds.get(cause).unwrap_or(&1.0) - 1.0),
            Parameter::Strength { .. } => 1.0,
        };
        let scale = |weight: f64| weight * posterior.evidence * shared;
        let (nothing, groups) = decisions.weights(&posterior.states);
        Some(std::iter::once(nothing).chain(groups).map(scale).collect::<Vec<f64>>())
    };
    let (from, to) = (at(low)?, at(high)?);
    let weight = |decision: usize, value: f64| {
        let share = (value - low) / (high - low);
        from[decision] + share * (to[decision] - from[decision])
    };
    let leader = (0..from.len()).reduce(|best, next| {
        if weight(next, stated) > weight(best, stated) { next } else { best }
    })?;
    let crossings = (0..from.len()).filter(|other| *other != leader).filter_map(|other| {
        let (start, end) = (from[leader] - from[other], to[leader] - to[other]);
        let share = start / (start - end);
        let place = low + share * (high - low);
        let is_inside = share.is_finite() && (0.0..=1.0).contains(&share);
        is_inside.then_some((place, other))
    });
    let (place, other) =
        crossings.min_by(|a, b| (a.0 - stated).abs().total_cmp(&(b.0 - stated).abs()))?;
    let lead = if other == 0 { Lead::Nothing } else { Lead::Group(other - 1) };
    Some(Crossing { parameter, stated, at: place, lead })
}

/// What is stated, and the lowest and highest value that can be compiled.
fn bounds(model: &Model, parameter: Parameter) -> Option<(f64, f64, f64)> {
    match parameter {
        Parameter::Prior { cause } => {
            let told = model.causes.get(cause)?;
            // Of several that bring it, each with its own factor, the weight is no line.
            if told.brought_by.len() > 1 {
                return None;
            }
            let brought = told.brought_by.iter().map(|(_, chance)| *chance);
            let high = brought.fold(0.999, f64::min);
            (told.prior > 0.0 && high > 0.001).then_some((told.prior, 0.001, high))
        }
        Parameter::Strength { finding, cause } => {
            let told = model.findings.get(finding)?;
            let (_, shown) = told.shown_by.iter().find(|(by, _)| *by == cause)?;
            let [_, background] = told.background[..] else { return None };
            Some((shown[1], background, 0.999))
        }
    }
}

fn with(model: &Model, parameter: Parameter, value: f64) -> Option<Model> {
    let mut model = model.clone();
    match parameter {
        Parameter::Prior { cause } => model.causes.get_mut(cause)?.prior = value,
        Parameter::Strength { finding, cause } => {
            let shown = &mut model.findings.get_mut(finding)?.shown_by;
            let (_, shares) = shown.iter_mut().find(|(by, _)| *by == cause)?;
            *shares = vec![1.0 - value, value];
        }
    }
    Some(model)
}
