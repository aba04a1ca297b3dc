//! What to check next: the tests worth most, each question once, and the safety questions before
//! them.

use crate::case::{Case, Now, QuestionId, TreeId};
use crate::evidence::wording::in_words;
use crate::evidence::{Insight, NextTest};
use crate::text::{Line, Role, count};

/// How many tests are named (limit of ours).
const MOST_TESTS: usize = 2;

/// The tests worth making next. A question that one of them names is not named by the next.
pub(super) fn next_tests(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    let going = going_on(case);
    let mut lines: Vec<Line> = going.map(|tree| going_on_line(case, tree)).into_iter().collect();
    let mut named: Vec<QuestionId> = Vec::new();
    let mut guarded: Vec<QuestionId> = Vec::new();
    let mut listed = 0;
    for test in insight.tests.iter().filter(|test| test.tree.is_none() || test.tree != going) {
        let fresh: Vec<QuestionId> =
            test.questions.iter().filter(|id| !named.contains(id)).copied().collect();
        if fresh.is_empty() || listed == MOST_TESTS {
            continue;
        }
        let safety: Vec<QuestionId> =
            test.safety.iter().filter(|id| !guarded.contains(id)).copied().collect();
        lines.extend(safety_line(case, &safety));
        lines.push(next_line(case, test, &fresh));
        named.extend(fresh);
        guarded.extend(safety);
        listed += 1;
    }
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What to check next"));
    }
    lines
}

/// The tree that the author would go on with from the end that was reached.
pub(super) fn going_on(case: &Case<'_>) -> Option<TreeId> {
    let Now::Ended { then, .. } = case.now() else { return None };
    then.first().copied()
}

pub(super) fn going_on_line(case: &Case<'_>, tree: TreeId) -> Line {
    let takes = case.handbook().tree(tree).takes.map(|seconds| seconds / 60.0);
    let cost = takes.map(|minutes| format!(" (about {minutes:.0} min)")).unwrap_or_default();
    let text = format!("- Go on with \"{}\".", case.tree_view(tree).1);
    Line::plain(text).push(Role::Quiet, cost)
}

/// The safety questions that come before anything else; the first in full.
fn safety_line(case: &Case<'_>, safety: &[QuestionId]) -> Option<Line> {
    let (first, rest) = safety.split_first()?;
    let asked = case.question_view(*first).ask.to_text();
    let more = match rest.len() {
        0 => String::new(),
        more => format!(" And {}.", count(more, "more safety question")),
    };
    Some(Line::warning(format!("- Before the test, for safety: {asked}{more}")))
}

/// A test with those of its questions that no test before it has named.
fn next_line(case: &Case<'_>, test: &NextTest, fresh: &[QuestionId]) -> Line {
    let minutes = test.minutes.max(1.0);
    let settles = in_words(test.settles);
    if let Some(tree) = test.tree {
        let title = case.tree_view(tree).1;
        let cost = format!(" (about {minutes:.0} min; that it settles the case: {settles})");
        return Line::plain(format!("- Run \"{title}\"")).push(Role::Quiet, cost);
    }
    let asks: Vec<String> =
        fresh.iter().take(3).map(|&id| case.question_view(id).ask.to_text()).collect();
    let more = fresh.len().saturating_sub(asks.len());
    let mut text = format!("- {}", asks.join(" "));
    if more > 0 {
        text.push_str(&format!(" And {}.", count(more, "more question")));
    }
    let tree = fresh.first().and_then(|&id| case.trees_asking(id).first().copied());
    let part_of = tree.map(|id| format!(", part of \"{}\"", case.tree_view(id).1));
    let part_of = part_of.unwrap_or_default();
    let cost = format!(" (about {minutes:.0} min{part_of}; that it settles the case: {settles})");
    Line::plain(text).push(Role::Quiet, cost)
}
