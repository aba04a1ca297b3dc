//! Which tree a case goes on with: what its author leads to, and what has to be read again.

use crate::case::{ActionId, Case, Now, Place, QuestionId, TreeId};
use crate::evidence::{Insight, NextTest, Proof};
use crate::handbook::StepKind;

/// The tree that the author would go on with from the end that was reached: the first that the
/// case has not been through, or has to go through again after what was done since, and that could
/// still tell something, where it is known what could.
pub(super) fn going_on(case: &Case<'_>, insight: Option<&Insight>) -> Option<TreeId> {
    ways_on(case, insight).first().copied()
}

/// All such trees of that end, in its author's order.
pub(super) fn ways_on(case: &Case<'_>, insight: Option<&Insight>) -> Vec<TreeId> {
    let Now::Ended { then, .. } = case.now() else { return Vec::new() };
    let own = case.path().last().map(|step| step.place.tree);
    let is_passed = |tree: TreeId| has_been_through(case, tree);
    let is_new = |tree: &TreeId| own == Some(*tree) || !is_passed(*tree) || is_due(case, *tree);
    let tells = |tree: &TreeId| {
        let is_own = own == Some(*tree) || is_sent_back_to(case, *tree);
        is_own || insight.is_none_or(|insight| could_tell(case, insight, *tree))
    };
    then.iter().copied().filter(is_new).filter(tells).collect()
}

/// Whether the case has come to an end of a tree: one that led on into another before its own end
/// has not been gone through, nor one whose last end sends back to it, since something was missing.
pub(super) fn has_been_through(case: &Case<'_>, tree: TreeId) -> bool {
    let sends_on = |place: Place| {
        let step = case.handbook().tree(place.tree).step(place.step);
        let StepKind::End { then, .. } = &step.kind else { return None };
        Some(!then.contains(&tree))
    };
    let in_it = case.path().iter().rev().filter(|step| step.place.tree == tree);
    in_it.filter_map(|step| sends_on(step.place)).next().unwrap_or(false)
}

/// Whether the case came through a tree and not to an end of its own, and is sent back to it. What it
/// asks for has been answered, and its author knows that this doesn't count, such as a hold of two
/// readings.
pub(super) fn is_sent_back_to(case: &Case<'_>, tree: TreeId) -> bool {
    case.path().iter().any(|step| step.place.tree == tree) && !has_been_through(case, tree)
}

/// Whether what a tree reads was read before something changed, or a repair that it makes has not
/// been proved, so that it is to be read again.
pub(super) fn is_due(case: &Case<'_>, tree: TreeId) -> bool {
    let sheet = case.worksheet();
    let mut asked = case.handbook().tree(tree).questions();
    asked.any(|id| sheet.latest_is_outdated(id).is_some()) || unproved(case, tree).is_some()
}

/// A repair that a tree makes, that was made, and since which nothing was read.
pub(super) fn unproved(case: &Case<'_>, tree: TreeId) -> Option<ActionId> {
    let made = |action: ActionId| case.record().done.iter().any(|(done, _)| *done == action);
    let is_in = |action: ActionId| {
        let mut steps = case.handbook().tree(tree).steps.iter();
        steps.any(|step| matches!(step.kind, StepKind::Act { action: act, .. } if act == action))
    };
    let unread = case.assessment().repaired().filter(|(_, proof)| *proof == Proof::NotRead);
    let mut cures = unread.flat_map(|(was, _)| &case.handbook().cause(was.cause).cured_by);
    cures.find(|(action, _)| made(*action) && is_in(*action)).map(|(action, _)| *action)
}

/// Whether a tree, or a check that is all in it, could still tell causes apart. Before there is
/// any evidence, and of a tree that only prepares, nobody can say that it doesn't.
pub(super) fn could_tell(case: &Case<'_>, insight: &Insight, tree: TreeId) -> bool {
    let has_evidence = case.assessment().has_evidence;
    !has_evidence || !is_about_causes(case, tree) || tests_in(case, insight, tree).next().is_some()
}

/// The tests that a tree is, or that are all in it.
pub(super) fn tests_in<'i>(
    case: &Case<'_>,
    insight: &'i Insight,
    tree: TreeId,
) -> impl Iterator<Item = &'i NextTest> {
    let asked: Vec<QuestionId> = case.handbook().tree(tree).questions().collect();
    insight.tests.iter().filter(move |test| {
        test.tree == Some(tree)
            || test.home == Some(tree)
            || test.questions.iter().all(|id| asked.contains(id))
    })
}

/// Whether a tree asks for something that a finding about causes uses.
fn is_about_causes(case: &Case<'_>, tree: TreeId) -> bool {
    let asked: Vec<QuestionId> = case.handbook().tree(tree).questions().collect();
    case.finding_ids().any(|finding| {
        let under = case.handbook().questions_under(case.handbook().finding(finding).symbol);
        !case.is_apart(finding) && under.iter().any(|id| asked.contains(id))
    })
}
