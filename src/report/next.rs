//! What to check next: the tests worth most, each question once, and the safety questions before
//! them.

use super::doubt::WORTH_FEARING;
use super::going_on::{going_on, is_due, unproved};
use super::next_step::{
    NextStep, about_this, advised_goes_first, author_goes_first, next_step, quick_look,
    reading_asked, way_beside,
};
use super::still_open::{still_open, still_open_line};
use super::whole::sentences;
use crate::case::{Case, Closes, Now, QuestionId, TreeId};
use crate::evidence::wording::in_words;
use crate::evidence::{Insight, NextTest};
use crate::text::{Line, Role, count};

/// How many tests are named (limit of ours).
pub(super) const MOST_TESTS: usize = 2;

/// The tests worth making next. A question that one of them names is not named by the next.
pub(super) fn next_tests(case: &Case<'_>, insight: &Insight) -> Vec<Line> {
    at_most_tests(case, insight, MOST_TESTS)
}

/// The same with so many tests at most.
pub(super) fn at_most_tests(case: &Case<'_>, insight: &Insight, most: usize) -> Vec<Line> {
    if let Some(closed) = case.work_closed() {
        match closed {
            Closes::Planned => return coming(case, "- Keep this plan, and do it in its order."),
            Closes::Waits => {
                let told = "- Do what stands first under \"Verdict\" above. Nothing more is done \
                            before somebody comes back to it.";
                return coming(case, told);
            }
            Closes::Proved | Closes::Done => {}
        }
        let done = format!("- This way ends here. {}Keep the record.", last_said(case));
        return vec![Line::strong("What to do now"), Line::plain(done)];
    }
    if let Some(plan) = case.unfinished_plan() {
        let title = case.tree_view(plan).1;
        let told =
            format!("- Go on with \"{title}\": nothing is opened or checked before it is done.");
        return vec![Line::strong("What to do now"), Line::plain(told)];
    }
    let going = going_on(case, Some(insight));
    let mut named = case.assessment().disputed.clone();
    let mut lines: Vec<Line> = read_again_line(case, &named).into_iter().collect();
    if let Some(question) = reading_asked(case).filter(|id| !named.contains(id)) {
        lines.push(asked_line(case, question));
        named.push(question);
    }
    let due = lines.len();
    let mut tests = worth_naming(insight, going);
    let mut is_look_first = false;
    if let Some(NextStep::Test(first, _)) = next_step(case, insight) {
        tests.sort_by_key(|test| !std::ptr::eq(*test, first));
        is_look_first =
            quick_look(case, insight, going).is_some_and(|(test, _)| std::ptr::eq(test, first));
    }
    lines.extend(lines_of_tests(case, insight, &tests, (named, most)));
    let (before, behind) = trees_to_go_on_with(case, insight, going);
    // Nothing is put before the way that its author goes on with but a look of no time.
    // In brief that look may not be told at all.
    let place = if is_look_first { (due + 1).min(lines.len()) } else { due };
    lines.splice(place..place, before);
    lines.extend(behind);
    if !lines.is_empty() {
        lines.insert(0, Line::strong("What to check next"));
    }
    lines
}

/// The tests, at most so many, each with the safety questions before it; a question that was named is
/// not named again.
fn lines_of_tests(
    case: &Case<'_>,
    insight: &Insight,
    tests: &[&NextTest],
    (mut named, most): (Vec<QuestionId>, usize),
) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut guarded: Vec<QuestionId> = Vec::new();
    let mut listed = 0;
    for &test in tests {
        let fresh: Vec<QuestionId> =
            test.questions.iter().filter(|id| !named.contains(id)).copied().collect();
        if fresh.is_empty() || listed == most {
            continue;
        }
        let safety: Vec<QuestionId> = test
            .safety
            .iter()
            .filter(|id| !guarded.contains(id) && !fresh.contains(id))
            .copied()
            .collect();
        lines.extend(safety_line(case, named_by(case, test, &fresh), &safety));
        lines.push(next_line(case, insight, test, &fresh));
        named.extend(fresh);
        guarded.extend(safety);
        listed += 1;
    }
    lines
}

/// The last sentence of the end that was reached, where it says more than what was done.
fn last_said(case: &Case<'_>) -> String {
    let Now::Ended { done, .. } = case.now() else { return String::new() };
    let all = sentences(&done.to_text());
    match &all[..] {
        [] | [_] => String::new(),
        [.., last] => format!("{last} "),
    }
}

/// The trees to go on with: those that come before the tests, and those that come behind them.
fn trees_to_go_on_with(
    case: &Case<'_>,
    insight: &Insight,
    going: Option<TreeId>,
) -> (Vec<Line>, Vec<Line>) {
    let takes = |tree: TreeId| {
        insight.tests.iter().find(|test| test.tree == Some(tree)).map(|test| test.minutes)
    };
    let going_on = going.map(|tree| {
        let line = going_on_line(case, tree, takes(tree));
        // What a repair has outdated comes before anything that has not been read at all.
        // Where nothing speaks of a cause, the way that its author goes on with comes first.
        let is_first = is_due(case, tree) || author_goes_first(case, insight, tree);
        (is_first, proving_line(case, tree).unwrap_or(line))
    });
    let beside = going.and_then(|tree| way_beside(case, insight, tree)).map(|tree| {
        let is_first = going_on.as_ref().is_some_and(|(is_first, _)| *is_first);
        (is_first, way_line(case, "Or with", tree, takes(tree)))
    });
    let advised = still_open(case, insight, going);
    let advised = advised.map(|tree| (advised_goes_first(case), still_open_line(case, tree)));
    let (before, behind): (Vec<_>, Vec<_>) =
        going_on.into_iter().chain(beside).chain(advised).partition(|(is_first, _)| *is_first);
    let line = |(_, line): (bool, Line)| line;
    (before.into_iter().map(line).collect(), behind.into_iter().map(line).collect())
}

/// What is to be done now, and the work that a plan leads on to or the way back to work that waits.
fn coming(case: &Case<'_>, now: &str) -> Vec<Line> {
    let Now::Ended { then, .. } = case.now() else { return Vec::new() };
    let mut lines = vec![Line::strong("What to do now"), Line::plain(now)];
    let waits = case.work_closed() == Some(Closes::Waits);
    lines.extend(then.iter().map(|&tree| match waits {
        true => Line::plain(format!("- Once somebody has: \"{}\".", case.tree_view(tree).1)),
        false => going_on_line(case, tree, None),
    }));
    lines
}

/// The readings that can't all be: until they are read again, other checks rest on sand.
fn read_again_line(case: &Case<'_>, readings: &[QuestionId]) -> Option<Line> {
    (!readings.is_empty()).then(|| {
        let asks = asked(case, readings);
        Line::plain(format!("- Read again, before anything else: {asks}"))
    })
}

/// The reading that the way asks for now, and of which part.
fn asked_line(case: &Case<'_>, question: QuestionId) -> Line {
    let asks = case.ask(question).to_text();
    let part = about_this(case).map(|part| format!(" {part}")).unwrap_or_default();
    Line::plain(format!("- First what is asked for now: {asks}{part}"))
}

/// What stands in the place of a verdict while readings can't all be: each is left out, so what
/// would lead rests on the others alone.
pub(super) fn nothing_leads(case: &Case<'_>) -> Option<Line> {
    let readings = &case.assessment().disputed;
    (!readings.is_empty()).then(|| {
        let told = format!("{} Until then nothing leads.", asked(case, readings));
        Line::new().push(Role::Strong, "Read again first: ").push(Role::Plain, told)
    })
}

fn asked(case: &Case<'_>, readings: &[QuestionId]) -> String {
    let asks: Vec<String> = readings.iter().map(|&id| case.ask(id).to_text()).collect();
    asks.join(" ")
}

/// A test that settles the case less often than this is told by what it may change (`estimate`).
const LEAST_SETTLED: f64 = 0.05;

/// The tests that may settle the case or change what comes first; where none may, the best one.
pub(super) fn worth_naming(insight: &Insight, going: Option<TreeId>) -> Vec<&NextTest> {
    let others = insight.tests.iter().filter(|test| test.tree.is_none() || test.tree != going);
    let others: Vec<&NextTest> = others.collect();
    let mut telling = others.clone();
    telling.retain(|test| test.settles >= LEAST_SETTLED || may_change(insight, test));
    if telling.is_empty() && going.is_none() {
        telling.extend(others.first());
    }
    telling
}

/// Whether one outcome of what a test settles would put something else first, often enough.
fn may_change(insight: &Insight, test: &NextTest) -> bool {
    insight.changes.iter().any(|change| {
        change.probability >= WORTH_FEARING
            && change.outcomes.iter().all(|(finding, _)| test.findings.contains(finding))
    })
}

/// The same where it is the reading that a repair waits for.
fn proving_line(case: &Case<'_>, tree: TreeId) -> Option<Line> {
    let action = case.handbook().action(unproved(case, tree)?);
    let done = action.once_done.as_ref()?;
    let title = case.tree_view(tree).1;
    Some(Line::plain(format!(
        "- First of all, as nothing was read since {done}: see that it is so, and read again with \
         \"{title}\"."
    )))
}

/// The tree to go on with, and what it takes: as worked out for this case, or as its author says.
pub(super) fn going_on_line(case: &Case<'_>, tree: TreeId, minutes: Option<f64>) -> Line {
    way_line(case, "Go on with", tree, minutes)
}

/// The same behind other words.
fn way_line(case: &Case<'_>, lead: &str, tree: TreeId, minutes: Option<f64>) -> Line {
    let stated = case.handbook().tree(tree).takes.map(|seconds| seconds / 60.0);
    let takes = minutes.or(stated);
    let cost = takes.map(|minutes| format!(" (about {minutes:.0} min)")).unwrap_or_default();
    let text = format!("- {lead} \"{}\".", case.tree_view(tree).1);
    Line::plain(text).push(Role::Quiet, cost)
}

/// The safety questions that come before a test, of this tree if it is of one; the first in full.
fn safety_line(case: &Case<'_>, tree: Option<TreeId>, safety: &[QuestionId]) -> Option<Line> {
    let (first, rest) = safety.split_first()?;
    let asked = case.ask(*first).to_text();
    let more = match rest.len() {
        0 => String::new(),
        more => format!(" And {}.", count(more, "more safety question")),
    };
    let test = tree.map_or_else(
        || "the next check".to_owned(),
        |tree| format!("\"{}\"", case.tree_view(tree).1),
    );
    // Of several answers nobody sees by himself which is the dangerous one.
    let asked_for = case.danger_label(*first);
    let asked_for = asked_for.map(|label| format!(" It is asked for this: \"{label}\"."));
    let asked = format!("{asked}{}", asked_for.unwrap_or_default());
    // A question is no caution, though it has to come first.
    let first = format!("- Answer this before {test}, for safety: ");
    Some(Line::new().push(Role::Strong, first).push(Role::Plain, format!("{asked}{more}")))
}

/// A test with those of its questions that no test before it has named.
fn next_line(case: &Case<'_>, insight: &Insight, test: &NextTest, fresh: &[QuestionId]) -> Line {
    let minutes = test.minutes.max(1.0);
    let gain = if test.settles < LEAST_SETTLED && may_change(insight, test) {
        "it may put something else first".to_owned()
    } else {
        format!("that it settles the case: {}", in_words(test.settles))
    };
    if let Some(tree) = test.tree {
        let title = case.tree_view(tree).1;
        let cost = format!(" (about {minutes:.0} min; {gain})");
        return Line::plain(format!("- Run \"{title}\"")).push(Role::Quiet, cost);
    }
    let asks: Vec<String> = fresh.iter().take(3).map(|&id| case.ask(id).to_text()).collect();
    let more = fresh.len().saturating_sub(asks.len());
    let mut text = format!("- {}", asks.join(" "));
    if more > 0 {
        text.push_str(&format!(" And {}.", count(more, "more question")));
    }
    let tree = named_by(case, test, fresh);
    let part_of = tree.map(|id| format!(", part of \"{}\"", case.tree_view(id).1));
    let part_of = part_of.unwrap_or_default();
    let cost = format!(" (about {minutes:.0} min{part_of}; {gain})");
    Line::plain(text).push(Role::Quiet, cost)
}

/// The tree by which a test is named: itself, or the one that it belongs to where no other asks
/// its first question or the case has been in it. What several others ask belongs to none of them.
fn named_by(case: &Case<'_>, test: &NextTest, fresh: &[QuestionId]) -> Option<TreeId> {
    let asking = case.trees_asking(*fresh.first()?);
    let has_been = |tree: TreeId| case.path().iter().any(|step| step.place.tree == tree);
    let is_its_own =
        |tree: &TreeId| asking.contains(tree) && (asking.len() == 1 || has_been(*tree));
    test.tree.or_else(|| test.home.filter(is_its_own))
}
