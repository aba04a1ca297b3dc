//! How far a number of the author may be off before something else leads.
//!
//! The weight of every decision is linear in each strength and each base rate of a model, so two
//! posteriors give the whole line, and the place where two lines cross (Castillo, Gutierrez and
//! Hadi 1997, from memory). A number that stands at several places makes it a polynomial.

use super::curves::Curves;
use super::decision::{Decisions, Lead, Tally};
use super::network::{CauseModel, Evidence, FindingModel, Model, Network, Partly, Whole};

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
    /// How often a cause shows as one outcome of a choice, the others keeping their proportions.
    Share {
        /// The finding.
        finding: usize,
        /// The cause.
        cause: usize,
        /// The outcome.
        outcome: usize,
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
/// be. None where the lead stays, or the model has no such number.
#[must_use]
pub fn crossing(
    model: &Model,
    decisions: &Decisions,
    odds: &[f64],
    evidence: &[Evidence],
    parameter: Parameter,
) -> Option<Crossing> {
    let network = &Network::new(model.clone()).ok()?;
    let whole = network.whole(odds, evidence).ok()?;
    Sensitivity { model, decisions, evidence, whole: &whole }.crossing(parameter, &[])
}

/// A model whose numbers are moved, with what is known.
#[derive(Debug)]
pub(super) struct Sensitivity<'a> {
    pub model: &'a Model,
    pub decisions: &'a Decisions,
    pub evidence: &'a [Evidence],
    /// This evidence brought to the network of this model.
    pub whole: &'a Whole<'a>,
}

impl Sensitivity<'_> {
    /// The nearest crossing of a number that stands at other findings and causes too, such as
    /// before a repair and after it.
    pub(super) fn crossing(
        &self,
        parameter: Parameter,
        also: &[(usize, usize)],
    ) -> Option<Crossing> {
        let (stated, low, high) = bounds(self.model, parameter)?;
        let (at, other) = match parameter {
            Parameter::Prior { cause } => {
                let ends = [low, high].map(|rate| self.with_rate(cause, rate));
                let values = ends.into_iter().collect::<Option<_>>()?;
                Curves { low, high, values }.line(stated)?
            }
            Parameter::Strength { finding, cause } | Parameter::Share { finding, cause, .. } => {
                let places: Vec<(usize, usize)> =
                    also.iter().copied().chain([(finding, cause)]).collect();
                Moving::of(self, parameter, &places).crossing(stated, low, high)?
            }
        };
        let lead = if other == 0 { Lead::Nothing } else { Lead::Group(other - 1) };
        Some(Crossing { parameter, stated, at, lead })
    }

    /// The weight of nothing and of every group, with another base rate.
    fn with_rate(&self, cause: usize, rate: f64) -> Option<Vec<f64>> {
        let told = CauseModel { prior: rate, ..self.model.causes.get(cause)?.clone() };
        let all = self.whole.with_cause(cause, &told)?;
        // A past makes the chances of a cause share a denominator that moves with its base rate.
        let shared = 1.0 + rate * (self.whole.odds().get(cause).unwrap_or(&1.0) - 1.0);
        Some(listed(self.decisions.weights_of(all.runs())).map(|weight| weight * shared).collect())
    }
}

/// A strength or a share while it moves: what the evidence says that doesn't hang on it, once.
struct Moving<'a> {
    of: &'a Sensitivity<'a>,
    parameter: Parameter,
    /// The findings and causes at which it stands.
    places: &'a [(usize, usize)],
    /// The evidence of these findings.
    pieces: Vec<Evidence>,
    partly: Partly,
}

impl<'a> Moving<'a> {
    fn of(of: &'a Sensitivity<'a>, parameter: Parameter, places: &'a [(usize, usize)]) -> Self {
        let stands_at =
            |piece: &usize| places.iter().any(|(place, _)| of.evidence[*piece].tells_of(*place));
        let moving: Vec<usize> = (0..of.evidence.len()).filter(stands_at).collect();
        let pieces = moving.iter().map(|piece| of.evidence[*piece].clone()).collect();
        Self { of, parameter, places, pieces, partly: of.whole.without(&moving) }
    }

    /// Each place makes the weights a polynomial of one degree more, so that as many weights as
    /// places and one give the whole of it; where that is no straight line, the crossing is worked
    /// out anew with the number put in.
    fn crossing(&self, stated: f64, low: f64, high: f64) -> Option<(f64, usize)> {
        let last = self.places.len();
        let at = |point: usize| low + (high - low) * point as f64 / last as f64;
        let values = (0..=last).map(|point| self.weights(at(point))).collect::<Option<_>>()?;
        let curves = Curves { low, high, values };
        if last == 1 {
            return curves.line(stated);
        }
        let (place, other) = curves.curve(stated)?;
        let weights = self.weights(place)?;
        let best = weights.iter().fold(0.0_f64, |best, weight| best.max(*weight));
        ((best - weights[other]).abs() <= CLOSE * best).then_some((place, other))
    }

    /// The weight of nothing and of every group, with another value of the number.
    fn weights(&self, value: f64) -> Option<Vec<f64>> {
        let mut changed: Vec<(usize, FindingModel)> = Vec::new();
        for (place, cause) in self.places {
            let known = changed.iter().position(|(known, _)| known == place);
            let slot = match known {
                Some(slot) => slot,
                None => {
                    changed.push((*place, self.of.model.findings.get(*place)?.clone()));
                    changed.len() - 1
                }
            };
            let shown = &mut changed[slot].1.shown_by;
            let (_, shares) = shown.iter_mut().find(|(by, _)| by == cause)?;
            *shares = self.parameter.shares(shares, value);
        }
        let network = self.of.whole.network().with_findings(&changed).ok()?;
        let all = network.completed(&self.partly, &self.pieces).ok()?;
        Some(listed(self.of.decisions.weights_of(all.runs())).collect())
    }
}

/// The weight of nothing, then that of each group.
fn listed(tally: Tally) -> impl Iterator<Item = f64> {
    std::iter::once(tally.nothing).chain(tally.groups)
}

/// How far what leads and what comes next may be apart where they cross, of their weight (limit of
/// ours, far above rounding).
const CLOSE: f64 = 1e-6;

impl Parameter {
    /// The shares of a cause once the number has another value.
    fn shares(self, told: &[f64], value: f64) -> Vec<f64> {
        match self {
            Self::Prior { .. } => told.to_vec(),
            Self::Strength { .. } => vec![1.0 - value, value],
            Self::Share { outcome, .. } => moved_share(told, outcome, value),
        }
    }
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
        Parameter::Share { finding, cause, outcome } => {
            let told = model.findings.get(finding)?;
            let (_, shown) = told.shown_by.iter().find(|(by, _)| *by == cause)?;
            let stated = *shown.get(outcome).filter(|share| **share < 1.0)?;
            let may_be = |value: f64| {
                let told = FindingModel {
                    background: told.background.clone(),
                    shown_by: vec![(0, moved_share(shown, outcome, value))],
                    hidden_by: Vec::new(),
                };
                let causes = vec![CauseModel { prior: 0.5, brought_by: Vec::new() }];
                Network::new(Model { causes, findings: vec![told] }).is_ok()
            };
            Some((stated, furthest(stated, 0.001, may_be), furthest(stated, 0.999, may_be)))
        }
    }
}

/// The furthest value towards an end that may be, where all nearer ones may.
fn furthest(from: f64, end: f64, may_be: impl Fn(f64) -> bool) -> f64 {
    if may_be(end) {
        return end;
    }
    let (mut inside, mut outside) = (from, end);
    for _ in 0..40 {
        let middle = 0.5 * (inside + outside);
        if may_be(middle) { inside = middle } else { outside = middle }
    }
    inside
}

/// Shares with another one for an outcome, the rest scaled.
fn moved_share(shares: &[f64], outcome: usize, value: f64) -> Vec<f64> {
    let rest = (1.0 - value) / (1.0 - shares[outcome]);
    let moved = |(place, share): (usize, &f64)| if place == outcome { value } else { share * rest };
    shares.iter().enumerate().map(moved).collect()
}
