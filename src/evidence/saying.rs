//! A finding in words: what it says, by how much, and why it says nothing.
//!
//! Words cost more than the judgement that they tell of, and of most findings nobody asks for any.

use super::finding::{FindingState, Judged, disputed_by, observed};
use super::worksheet::Worksheet;
use crate::formula::{CheckedTemplate, Value};
use crate::handbook::{Finding, Handbook, Observes};
use crate::text::{Line, capital, spoken};

/// A finding in words.
#[derive(Clone, Debug)]
pub struct Saying {
    /// What it says.
    pub text: Line,
    /// By how much, where it compares a quantity with a limit.
    pub margin: Option<Line>,
    /// Why it says nothing: why it doesn't apply, or what is missing.
    pub lacks: Option<String>,
}

/// What a finding says that was judged on a worksheet.
#[must_use]
pub fn saying(finding: &Finding, judged: &Judged, sheet: &Worksheet<'_>) -> Saying {
    let lacks = match &judged.state {
        FindingState::NotApplicable => Some(not_applicable(finding, sheet)),
        FindingState::Unknown => Some(not_known(&observed(finding, sheet))),
        _ => None,
    };
    let margin = match (&judged.state, &finding.observes) {
        (FindingState::NotApplicable, _) | (_, Observes::Of(_)) => None,
        (_, Observes::When(condition)) => condition.margin(sheet),
    };
    let text = match (&judged.state, &lacks) {
        (FindingState::NotApplicable, Some(why)) => {
            Line::plain(format!("This does not apply: {why}."))
        }
        (_, Some(why)) => Line::plain(format!("Not known: {why}.")),
        (state, None) => sentence(finding, state, sheet),
    };
    Saying { text, margin, lacks }
}

/// Why a finding does not apply.
fn not_applicable(finding: &Finding, sheet: &Worksheet<'_>) -> String {
    if let Some(why) = finding.only_if.as_ref().and_then(|condition| condition.unmet(sheet)) {
        return why;
    }
    let by = disputed_by(finding, sheet).map(|by| sheet.handbook().finding(by));
    let name = by.map(|by| by.name.clone().unwrap_or_else(|| spoken(&by.id)));
    format!("{}, and that has to be cleared up first", name.unwrap_or_default())
}

fn not_known(value: &Value) -> String {
    match value {
        Value::Unknown(why) => why.to_string(),
        Value::Truth(_) => "what is known does not decide it".to_owned(),
        _ => "it gives neither a yes or no nor a choice".to_owned(),
    }
}

fn sentence(finding: &Finding, state: &FindingState, sheet: &Worksheet<'_>) -> Line {
    let filled = |template: &Option<CheckedTemplate>| {
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
        // What it lacks is told in its place.
        FindingState::NotApplicable | FindingState::Unknown => Line::new(),
    }
}

fn choice_label(finding: &Finding, choice: u16, handbook: &Handbook) -> String {
    match finding.observes {
        Observes::Of(question) => handbook.question(question).choice_label(choice.into()),
        Observes::When(_) => choice.to_string(),
    }
}
