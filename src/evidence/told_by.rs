//! What some answers would tell together about the causes, whatever else is still open.

use super::costs::Costs;
use super::engine::Engine;
use super::likely_states::LikelyStates;
use super::next_check::{NextCheck, next_checks};
use super::weighed::Weighed;
use super::worksheet::Worksheet;
use crate::handbook::{Handbook, QuestionId};

/// Of how many findings, those that tell most, the bits are taken together (limit of ours; each
/// doubles the work).
const MOST_TOLD: usize = 6;

/// What some checks tell together, in bits.
pub(super) fn bits_together(likely: &LikelyStates<'_>, checks: &[&NextCheck]) -> f64 {
    let mut checks = checks.to_vec();
    checks.sort_by(|a, b| b.bits.total_cmp(&a.bits));
    let telling: Vec<usize> =
        checks.iter().take(MOST_TOLD).map(|check| check.finding.index()).collect();
    likely.information_together(&telling)
}

/// What answers to some questions are worth before they are known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Worth {
    /// Expected information about the joint state of the causes, in bits.
    pub bits: f64,
    /// What is lacking besides, where no finding is settled by them alone: the questions of the
    /// best one that they go into; none where they go into no open finding.
    pub lacks: Vec<QuestionId>,
}

/// What answers to these questions would tell.
#[must_use]
pub fn worth_of(
    engine: &Engine,
    sheet: &Worksheet<'_>,
    weighed: &Weighed,
    questions: &[QuestionId],
) -> Worth {
    let states = weighed.states_now();
    let checks = next_checks(engine, sheet, states, &Costs::of(engine, sheet));
    let is_told = |id: &QuestionId| questions.contains(id);
    let settled: Vec<&NextCheck> =
        checks.iter().filter(|check| check.questions.iter().all(is_told)).collect();
    if settled.is_empty() {
        return Worth { bits: 0.0, lacks: lacking(sheet.handbook(), &checks, questions) };
    }
    let decisions = weighed.groups.decisions_by_cause();
    let likely = LikelyStates::all(engine.network(), &decisions, states);
    let bits = bits_together(&likely, &settled);
    Worth { bits, lacks: Vec::new() }
}

/// What is lacking for the finding that tells most among those that the questions go into.
fn lacking(handbook: &Handbook, checks: &[NextCheck], questions: &[QuestionId]) -> Vec<QuestionId> {
    let is_told = |id: &QuestionId| questions.contains(id);
    let touched = checks.iter().filter(|check| check.questions.iter().any(is_told));
    // What lacks another reading is another test; what lacks a look or a setting is this one.
    let is_read = |id: &QuestionId| !is_told(id) && handbook.question(*id).instrument.is_some();
    let is_this = |check: &NextCheck| !check.questions.iter().any(is_read);
    let nearest =
        touched.max_by(|a, b| is_this(a).cmp(&is_this(b)).then_with(|| a.bits.total_cmp(&b.bits)));
    let lacks = nearest.map(|check| check.questions.iter().copied().filter(|id| !is_told(id)));
    lacks.map(Iterator::collect).unwrap_or_default()
}
