//! What to do about a verdict: repairs, the next checks, and who has the last word.

use crate::case::{ActionView, Case, CauseId, CauseView, CautionSeverity, CautionView, Now};
use crate::evidence::NextCheck;
use crate::evidence::wording::{Likelihood, word};
use crate::text::{Line, Role, count, list_and};

/// The repair for a likely cause, with its cautions before it, and the checks worth making next.
pub(super) fn what_to_do(case: &Case<'_>, leader: CauseId) -> Vec<Line> {
    let assessment = case.assessment();
    let mut lines = Vec::new();
    let is_worth_acting = assessment.has_evidence
        && !assessment.contradicts_itself
        && !assessment.nothing_leads()
        && word(assessment.probability(leader)) >= Likelihood::RoughlyEven;
    if is_worth_acting {
        lines.extend(repairs(&case.cause_view(leader)));
    }
    if !assessment.settled {
        lines.extend(next_checks(case));
    }
    lines
}

/// What mends a cause; each caution once, before the first repair that it belongs to.
fn repairs(cause: &CauseView) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut said: Vec<&str> = Vec::new();
    let of_actions = cause.fixes.iter().map(|action| (&action.cautions, Some(action)));
    for (cautions, action) in std::iter::once((&cause.cautions, None)).chain(of_actions) {
        for caution in cautions {
            if !said.contains(&caution.id.as_str()) {
                said.push(&caution.id);
                lines.push(caution_line(caution));
            }
        }
        lines.extend(action.map(action_line));
    }
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What to do about it"));
    }
    lines
}

fn action_line(action: &ActionView) -> Line {
    let mut cost = Vec::new();
    if let Some(minutes) = action.minutes {
        cost.push(format!("about {minutes:.0} min"));
    }
    if !action.parts.is_empty() {
        cost.push(format!("parts: {}", list_and(&action.parts)));
    }
    let line = Line::plain("- ").join(action.instruction.clone());
    if cost.is_empty() {
        return line;
    }
    line.push(Role::Quiet, format!(" ({})", cost.join("; ")))
}

/// A caution with whom to ask; a mere note does not cry caution.
fn caution_line(caution: &CautionView) -> Line {
    let (begins, role) = match caution.severity {
        CautionSeverity::Note => ("Note: ", Role::Plain),
        CautionSeverity::Caution | CautionSeverity::Stop => ("", Role::Warning),
    };
    let refer = caution.refer.as_ref().map(|refer| format!(" Ask {}.", refer.to_text()));
    let text = caution.text.to_text();
    Line::new().push(role, format!("{begins}{text}{}", refer.unwrap_or_default()))
}

fn next_checks(case: &Case<'_>) -> Vec<Line> {
    let mut lines: Vec<Line> = going_on(case).into_iter().collect();
    for check in case.checks_left().iter().take(2) {
        lines.push(next_line(case, check));
    }
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What to check next"));
    }
    lines
}

/// The tree that the author would go on with from the end that was reached.
fn going_on(case: &Case<'_>) -> Option<Line> {
    let Now::Ended { then, .. } = case.now() else { return None };
    let tree = *then.first()?;
    let takes = case.handbook().tree(tree).takes.map(|seconds| seconds / 60.0);
    let cost = takes.map(|minutes| format!(" (about {minutes:.0} min)")).unwrap_or_default();
    let text = format!("- Go on with \"{}\".", case.tree_view(tree).1);
    Some(Line::plain(text).push(Role::Quiet, cost))
}

fn next_line(case: &Case<'_>, check: &NextCheck) -> Line {
    let asks: Vec<String> =
        check.questions.iter().take(3).map(|&q| case.question_view(q).ask.to_text()).collect();
    let more = check.questions.len().saturating_sub(asks.len());
    let mut text = format!("- {}", asks.join(" "));
    if more > 0 {
        text.push_str(&format!(" And {}.", count(more, "more question")));
    }
    let tree = check.questions.first().and_then(|&q| case.trees_asking(q).first().copied());
    let part_of = tree.map(|id| format!(", part of \"{}\"", case.tree_view(id).1));
    let minutes = check.minutes.max(1.0);
    let cost = format!(" (about {minutes:.0} min{})", part_of.unwrap_or_default());
    Line::plain(text).push(Role::Quiet, cost)
}

/// Who has the last word.
pub(super) fn referral() -> Vec<Line> {
    vec![
        Line::strong("Before you act"),
        Line::plain(
            "The makers' instructions, your local codes and the licence the work needs come before \
             this advice; where they differ, they win. If in doubt, ask a person licensed for \
             refrigerant work.",
        ),
    ]
}
