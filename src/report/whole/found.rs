//! What was found: findings that came out, and what a written criterion says.

use serde::Serialize;

use super::Fact;
use crate::case::Case;
use crate::evidence::{FindingState, Witness};
use crate::report::marks::given as mark_given;
use crate::report::reasons::said;
use crate::text::{Line, Role};

/// A finding that came out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Found {
    /// The id of the finding.
    pub finding: String,
    /// What it says.
    pub text: String,
    /// By how much, where that is known.
    pub margin: Option<String>,
    /// Whether it tells of the time before a repair.
    pub before_repair: bool,
    /// Whether it speaks of no cause, as what a written criterion says does.
    pub apart: bool,
    /// Where its numbers are from.
    pub basis: Option<String>,
}

/// The findings that came out, in the order of the handbook, then those of before repairs.
pub(super) fn found(case: &Case<'_>) -> Vec<Found> {
    let came_out = |witness: &&Witness| {
        let state = &witness.judged.state;
        !matches!(state, FindingState::NotApplicable | FindingState::Unknown)
    };
    let all = case.assessment().witnesses.iter().filter(came_out);
    let mut found: Vec<Found> = Vec::new();
    for one in all.map(|witness| {
        let finding = case.handbook().finding(witness.finding);
        let text = said(case, witness).to_text();
        Found {
            finding: finding.id.clone(),
            text,
            margin: case.says(witness).margin.as_ref().map(Line::to_text),
            before_repair: witness.is_past(),
            apart: case.is_apart(witness.finding),
            basis: mark_given(case, &finding.basis, "when"),
        }
    }) {
        // What a repair has not touched is told once.
        let is_told = found.iter().any(|told| told.finding == one.finding && told.text == one.text);
        if !is_told {
            found.push(one);
        }
    }
    found
}

/// The findings about causes.
pub(super) fn told(found: &[Found]) -> Vec<Fact> {
    found.iter().filter(|found| !found.apart).map(fact).collect()
}

/// What written criteria and other findings apart from causes say.
pub(super) fn criteria(found: &[Found]) -> Vec<Fact> {
    found.iter().filter(|found| found.apart).map(fact).collect()
}

fn fact(found: &Found) -> Fact {
    let line = match found.before_repair {
        true => Line::new().push(Role::Quiet, "As first found: "),
        false => Line::new(),
    };
    let behind: Vec<String> =
        found.margin.iter().map(|by| format!("by {by}")).chain(found.basis.clone()).collect();
    let behind = match behind.is_empty() {
        true => String::new(),
        false => format!(" ({})", behind.join("; ")),
    };
    Fact::Item(line.push(Role::Plain, found.text.clone()).push(Role::Quiet, behind))
}
