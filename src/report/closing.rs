//! How a verdict closes: what is left to do where nothing is wrong, and who has the last word.

use super::going_on::going_on;
use super::next::going_on_line;
use crate::case::Case;
use crate::evidence::wording::{Strength, strength};
use crate::evidence::{FindingState, Reason};
use crate::text::{Line, Role};

/// What is left to do once it is settled that nothing is wrong.
pub(super) fn when_nothing_is_wrong(case: &Case<'_>) -> Vec<Line> {
    let assessment = case.assessment();
    if !(assessment.settled && assessment.nothing_leads()) {
        return Vec::new();
    }
    let mut lines = vec![Line::strong("What to do now")];
    let going = going_on(case, None);
    lines.extend(going.map(|tree| going_on_line(case, tree, None)));
    lines.push(match unexplained(case) {
        Some(found) => Line::plain(
            "- But this is not as it should be, and nothing known here is likely to explain it: ",
        )
        .join(found)
        .push(
            Role::Plain,
            " Check it again, and look for what is not among the causes here, before you take \
                 the job as done.",
        ),
        None if going.is_some() => Line::plain(
            "- Nothing that was read so far needs mending. After that, prove the job by the tests \
             and limits that it and your local codes ask for, and keep the record.",
        ),
        None => Line::plain(
            "- Nothing needs mending. Prove the job by the tests and limits that it and your \
             local codes ask for, and keep the record.",
        ),
    });
    lines
}

/// The strongest finding that holds now and speaks against nothing being wrong.
fn unexplained(case: &Case<'_>) -> Option<Line> {
    let assessment = case.assessment();
    let speaks_against = |reason: &&Reason| {
        reason.weight.nats() < 0.0 && strength(reason.weight) >= Strength::Moderate
    };
    let against = case.reasons().for_nothing.iter().filter(speaks_against);
    let mut witnesses =
        against.flat_map(|reason| &reason.witnesses).map(|&at| &assessment.witnesses[at]);
    let holds = witnesses.find(|witness| {
        !witness.is_past() && matches!(witness.judged.state, FindingState::True(_))
    });
    holds.map(|witness| case.says(witness).text)
}

/// Who has the last word.
pub(super) fn referral(case: &Case<'_>) -> Vec<Line> {
    vec![
        Line::strong("Before you act"),
        Line::plain(format!(
            "The makers' instructions, your local codes and the licence the work needs come before \
             this advice; where they differ, they win. If in doubt, ask {}.",
            case.handbook().call_in()
        )),
    ]
}
