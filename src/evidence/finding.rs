//! How a finding stands: true, false, too close, not applicable, or not yet known.

use super::worksheet::Worksheet;
use crate::formula::{Draws, Facts, Truth, Unknown, Value, Verdict, verdict};
use crate::handbook::{Entry, Finding, FindingId, Handbook, Observes};
use crate::text::{Line, capital, spoken};

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
    /// Its `only_if` is not met, so it is no evidence; with the reason.
    NotApplicable(String),
    /// Something it needs is missing; with the reason.
    Unknown(String),
}

/// A finding as judged on one worksheet.
#[derive(Clone, Debug)]
pub struct Judged {
    /// How it stands.
    pub state: FindingState,
    /// Its value for formulas that name it.
    pub value: Value,
    /// What it says, in words.
    pub text: Line,
    /// By how much, where it compares a quantity with a limit.
    pub margin: Option<Line>,
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
    if let Some(reason) = finding.only_if.as_ref().and_then(|condition| condition.unmet(sheet)) {
        return not_applicable(finding, reason);
    }
    if let Some(reason) = disputed(finding, sheet) {
        return not_applicable(finding, reason);
    }
    let value = match &finding.observes {
        Observes::When(condition) => sheet.evaluate(condition),
        Observes::Of(question) => sheet.latest(sheet.handbook().question(*question).symbol),
    };
    let state = state_of(&value);
    let margin = match &finding.observes {
        Observes::When(condition) => condition.margin(sheet),
        Observes::Of(_) => None,
    };
    Judged { text: sentence(finding, &state, sheet), state, value, margin }
}

fn not_applicable(finding: &Finding, reason: String) -> Judged {
    Judged {
        text: Line::plain(format!("This does not apply: {reason}.")),
        state: FindingState::NotApplicable(reason),
        margin: None,
        value: Value::Unknown(Unknown::NotApplicable(finding.id.clone())),
    }
}

/// Why a reading under a finding is not believed, where another finding says that it can't be.
fn disputed(finding: &Finding, sheet: &Worksheet<'_>) -> Option<String> {
    let handbook = sheet.handbook();
    let Entry::Finding(id) = handbook.entry(finding.symbol) else { return None };
    let is_true = |id: &FindingId| matches!(sheet.finding(*id).state, FindingState::True(_));
    let by = handbook.disputed_by(id).iter().copied().find(is_true)?;
    let by = handbook.finding(by);
    let name = by.name.clone().unwrap_or_else(|| spoken(&by.id));
    Some(format!("{name}, and that has to be cleared up first"))
}

fn state_of(value: &Value) -> FindingState {
    match value {
        Value::Truth(draws) => match verdict(draws) {
            Verdict::Yes(p) => FindingState::True(p),
            Verdict::No(p) => FindingState::False(p),
            Verdict::TooClose(p) => FindingState::TooClose(p),
            Verdict::Unknown => {
                FindingState::Unknown("what is known does not decide it".to_owned())
            }
        },
        Value::Choice(draws) => FindingState::Seen(draws.at(0)),
        Value::Unknown(why) => FindingState::Unknown(why.to_string()),
        _ => FindingState::Unknown("it gives neither a yes or no nor a choice".to_owned()),
    }
}

fn sentence(finding: &Finding, state: &FindingState, sheet: &Worksheet<'_>) -> Line {
    let filled = |template: &Option<crate::formula::CheckedTemplate>| {
        template.as_ref().map(|template| template.fill_what_is_known(sheet))
    };
    match state {
        FindingState::True(_) => filled(&finding.so)
            .unwrap_or_else(|| Line::plain(format!("{}: yes.", capital(&spoken(&finding.id))))),
        FindingState::False(_) => filled(&finding.so_not)
            .unwrap_or_else(|| Line::plain(format!("{}: no.", capital(&spoken(&finding.id))))),
        FindingState::TooClose(p) => {
            let so = match &finding.name {
                Some(name) => Line::plain(format!("whether {name}.")),
                None => filled(&finding.so)
                    .unwrap_or_else(|| Line::plain(format!("{}.", spoken(&finding.id)))),
            };
            Line::plain(format!("Too close to tell (about {:.0} in 10 for it): ", p * 10.0))
                .join(so)
        }
        FindingState::Seen(choice) => filled(&finding.so).unwrap_or_else(|| {
            Line::plain(format!("Seen: {}.", choice_label(finding, *choice, sheet.handbook())))
        }),
        FindingState::NotApplicable(reason) => Line::plain(reason.clone()),
        FindingState::Unknown(reason) => Line::plain(format!("Not known: {reason}.")),
    }
}

fn choice_label(finding: &Finding, choice: u16, handbook: &Handbook) -> String {
    match finding.observes {
        Observes::Of(question) => handbook.question(question).choice_label(choice.into()),
        Observes::When(_) => choice.to_string(),
    }
}
