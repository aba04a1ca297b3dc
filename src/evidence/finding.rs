//! How a finding stands: true, false, too close, not applicable, or not yet known.

use super::worksheet::Worksheet;
use crate::formula::{Checked, Draws, Facts, Truth, Unknown, Value, Verdict, verdict};
use crate::handbook::{Entry, Finding, FindingId, Observes};

/// The state of a finding.
#[derive(Clone, Debug, PartialEq)]
pub enum FindingState {
    /// Yes, with the share of the draws that say so.
    True(f64),
    /// No, with the share of the draws that say yes.
    False(f64),
    /// The doubt in the readings leaves it open.
    TooClose(f64),
    /// This choice was seen.
    Seen(u16),
    /// Its `only_if` is not met, or a reading under it is not believed, so it is no evidence.
    NotApplicable,
    /// Something it needs is missing.
    Unknown,
}

/// A finding as judged on one worksheet.
#[derive(Clone, Debug)]
pub struct Judged {
    /// How it stands.
    pub state: FindingState,
    /// Its value for formulas that name it.
    pub value: Value,
}

impl Judged {
    /// Whether there is an outcome in each draw, though the doubt may leave it open.
    #[must_use]
    pub fn is_evidence(&self) -> bool {
        matches!(self.value, Value::Truth(_) | Value::Choice(_))
    }

    /// The outcome in each draw: none where it says nothing.
    #[must_use]
    pub fn outcomes(&self) -> Option<Draws<Option<u16>>> {
        match &self.value {
            Value::Truth(draws) => Some(draws.map(|truth| match truth {
                Truth::No => Some(0),
                Truth::Yes => Some(1),
                Truth::Unknown => None,
            })),
            Value::Choice(draws) => Some(draws.map(Some)),
            _ => None,
        }
    }
}

/// Judges a finding on a worksheet.
#[must_use]
pub fn judge(finding: &Finding, sheet: &Worksheet<'_>) -> Judged {
    let is_met = |condition: &Checked| sheet.decides(condition) == Some(true);
    if !finding.only_if.as_ref().is_none_or(is_met) || disputed_by(finding, sheet).is_some() {
        let value = Value::Unknown(Unknown::NotApplicable(finding.id.clone()));
        return Judged { state: FindingState::NotApplicable, value };
    }
    let value = observed(finding, sheet);
    Judged { state: state_of(&value), value }
}

/// What a finding looks at.
pub(super) fn observed(finding: &Finding, sheet: &Worksheet<'_>) -> Value {
    match &finding.observes {
        Observes::When(condition) => sheet.evaluate(condition),
        Observes::Of(question) => sheet.latest(sheet.handbook().question(*question).symbol),
    }
}

/// The finding that says that a reading under this one can't be, if one does.
pub(super) fn disputed_by(finding: &Finding, sheet: &Worksheet<'_>) -> Option<FindingId> {
    let handbook = sheet.handbook();
    let Entry::Finding(id) = handbook.entry(finding.symbol) else { return None };
    let is_true = |id: &FindingId| matches!(sheet.finding(*id).state, FindingState::True(_));
    handbook.disputed_by(id).iter().copied().find(is_true)
}

fn state_of(value: &Value) -> FindingState {
    match value {
        Value::Truth(draws) => match verdict(draws) {
            Verdict::Yes(p) => FindingState::True(p),
            Verdict::No(p) => FindingState::False(p),
            Verdict::TooClose(p) => FindingState::TooClose(p),
            Verdict::Unknown => FindingState::Unknown,
        },
        Value::Choice(draws) => FindingState::Seen(draws.at(0)),
        _ => FindingState::Unknown,
    }
}
