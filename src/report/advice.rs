//! What to do about a verdict: repairs, the next checks, and who has the last word.

use crate::case::{ActionView, Case, CautionSeverity, CautionView, Now};
use crate::evidence::wording::{Likelihood, in_words, word};
use crate::evidence::{Insight, NextTest, RepairStep};
use crate::text::{Line, Role, count, list_and};

/// The most repairs that are listed (limit of ours).
const MOST_REPAIRS: usize = 4;

/// Repairs in the order to try, and the tests worth making next.
pub(super) fn what_to_do(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let assessment = case.assessment();
    let mut lines = Vec::new();
    let is_worth_acting = !assessment.nothing_leads()
        && assessment
            .leader()
            .is_some_and(|leader| word(leader.probability) >= Likelihood::RoughlyEven);
    if is_worth_acting {
        lines.extend(repairs(case, &insight.repairs));
    }
    if !assessment.settled {
        lines.extend(next_tests(case, insight));
    }
    lines
}

/// The order of repairs; each caution once, before the first repair that it belongs to.
fn repairs(case: &Case<'_>, steps: &[RepairStep]) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut said: Vec<String> = Vec::new();
    for step in steps.iter().take(MOST_REPAIRS) {
        for id in step.first.iter().chain(std::iter::once(&step.action)) {
            for caution in case.action_view(*id).cautions {
                if !said.contains(&caution.id) {
                    lines.push(caution_line(&caution));
                    said.push(caution.id);
                }
            }
        }
        for id in &step.first {
            lines.push(Line::plain("- First: ").join(case.action_view(*id).instruction));
        }
        let mended = format!("mends what is wrong: {}", in_words(step.restored));
        lines.push(action_line(&case.action_view(step.action), &mended));
    }
    if lines.is_empty() {
        return lines;
    }
    lines.insert(0, Line::strong("What to do about it, in this order"));
    lines.push(Line::plain(
        "Test again after each. If the last one has not helped, call in a licensed person.",
    ));
    lines
}

fn action_line(action: &ActionView, mended: &str) -> Line {
    let mut cost = Vec::new();
    if let Some(minutes) = action.minutes {
        cost.push(format!("about {minutes:.0} min"));
    }
    if !action.parts.is_empty() {
        cost.push(format!("parts: {}", list_and(&action.parts)));
    }
    cost.push(mended.to_owned());
    let line = Line::plain("- ").join(action.instruction.clone());
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

/// The two tests worth making next.
pub(super) fn next_tests(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let mut lines: Vec<Line> = going_on(case).into_iter().collect();
    lines.extend(insight.tests.iter().take(2).map(|test| next_line(case, test)));
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

fn next_line(case: &Case<'_>, test: &NextTest) -> Line {
    let minutes = test.minutes.max(1.0);
    let settles = in_words(test.settles);
    if let Some(tree) = test.tree {
        let title = case.tree_view(tree).1;
        let cost = format!(" (about {minutes:.0} min; that it settles the case: {settles})");
        return Line::plain(format!("- Run \"{title}\"")).push(Role::Quiet, cost);
    }
    let asks: Vec<String> =
        test.questions.iter().take(3).map(|&q| case.question_view(q).ask.to_text()).collect();
    let more = test.questions.len().saturating_sub(asks.len());
    let mut text = format!("- {}", asks.join(" "));
    if more > 0 {
        text.push_str(&format!(" And {}.", count(more, "more question")));
    }
    let tree = test.questions.first().and_then(|&q| case.trees_asking(q).first().copied());
    let part_of = tree.map(|id| format!(", part of \"{}\"", case.tree_view(id).1));
    let part_of = part_of.unwrap_or_default();
    let cost = format!(" (about {minutes:.0} min{part_of}; that it settles the case: {settles})");
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
