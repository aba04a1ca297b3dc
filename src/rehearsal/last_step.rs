//! The step at which a scenario should end, and the one at which it does.

use super::ending::last_place;
use super::expectation::ExpectedEnd;
use super::judging;
use super::outcome::{About, Miss, Outcome};
use super::scenario::Scenario;
use super::way_parted::way_parted;
use crate::case::{Case, Place};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Scalar;
use crate::handbook::{Handbook, StepId, StepKind, TreeId};
use crate::text::list_or;

/// Reads `step` of a scenario's own tree, or `tree.step`.
pub(super) fn expected(
    handbook: &Handbook,
    own: Option<TreeId>,
    text: &Scalar,
    faults: &mut Vec<Diagnostic>,
) -> Option<ExpectedEnd> {
    let (tree, step) = match text.text.split_once('.') {
        Some((tree, step)) => (handbook.find_tree(tree).ok_or(tree), step),
        // A tree that is not there is told where it is named.
        None => (Ok(own?), text.text.as_str()),
    };
    let tree = match tree {
        Ok(tree) => tree,
        Err(unknown) => {
            let near = near_name(unknown, handbook.trees().iter().map(|tree| tree.id.as_str()));
            let title = format!("the handbook has no tree `{unknown}`");
            let fault =
                Diagnostic::at(Code::UnknownExpectation, title, text.span, "no tree has this id");
            let help = near.map(|near| format!("did you mean `{near}.{step}`?"));
            faults.push(fault.maybe_help(help));
            return None;
        }
    };
    let names_tree = text.text.contains('.');
    match find_step(handbook, tree, step) {
        Some(step) => Some(ExpectedEnd { place: Place { tree, step }, names_tree }),
        None => {
            faults.push(unknown_step(handbook, tree, step, text, names_tree));
            None
        }
    }
}

fn find_step(handbook: &Handbook, tree: TreeId, step: &str) -> Option<StepId> {
    handbook.tree(tree).steps.iter().position(|known| known.id == step).map(StepId::at)
}

fn unknown_step(
    handbook: &Handbook,
    tree: TreeId,
    step: &str,
    text: &Scalar,
    names_tree: bool,
) -> Diagnostic {
    let id = &handbook.tree(tree).id;
    let title = format!("the tree `{id}` has no step `{step}`");
    let label = format!("no step of `{id}` has this id");
    let near = near_name(step, handbook.tree(tree).steps.iter().map(|known| known.id.as_str()));
    let before = if names_tree { format!("{id}.") } else { String::new() };
    let elsewhere: Vec<String> = handbook
        .trees()
        .iter()
        .filter(|other| other.steps.iter().any(|known| known.id == step))
        .map(|other| format!("`{}.{step}`", other.id))
        .collect();
    let help = match near {
        Some(near) => Some(format!("did you mean `{before}{near}`?")),
        None if elsewhere.is_empty() => None,
        None => Some(format!("a step of another tree is written with it: {}", list_or(&elsewhere))),
    };
    Diagnostic::at(Code::UnknownExpectation, title, text.span, label).maybe_help(help)
}

/// Whether a tree comes to an end at a step of this id.
pub(super) fn is_end(handbook: &Handbook, own: Option<TreeId>, id: &str) -> bool {
    own.is_some_and(|tree| {
        let mut steps = handbook.tree(tree).steps.iter();
        steps.any(|step| step.id == id && matches!(step.kind, StepKind::End { .. }))
    })
}

/// `step` for one of the scenario's own tree, `tree.step` for any other or where that is wanted.
fn told(handbook: &Handbook, own: Option<TreeId>, place: Place, names_tree: bool) -> String {
    let tree = handbook.tree(place.tree);
    let step = &tree.step(place.step).id;
    let is_short = own == Some(place.tree) && !names_tree;
    if is_short { step.clone() } else { format!("{}.{step}", tree.id) }
}

/// Where a case of a tree ends, as a scenario of it says it.
pub(super) fn of(case: &Case<'_>, own: TreeId, names_tree: bool) -> Option<String> {
    last_place(case).map(|place| told(case.handbook(), Some(own), place, names_tree))
}

/// Whether a scenario expects to end at a step that stops the work.
pub(super) fn is_stop(scenario: &Scenario, handbook: &Handbook) -> bool {
    scenario.expect.end.is_some_and(|end| {
        let step = handbook.tree(end.place.tree).step(end.place.step);
        matches!(step.kind, StepKind::Stop { .. })
    })
}

/// An end at another step than the one expected.
pub(super) fn miss(scenario: &Scenario, case: &Case<'_>) -> Option<Miss> {
    let wanted = scenario.expect.end?;
    if last_place(case) == Some(wanted.place) {
        return None;
    }
    let own = scenario.tree;
    let expected = told(case.handbook(), Some(own), wanted.place, wanted.names_tree);
    let found = of(case, own, wanted.names_tree).unwrap_or_default();
    let text = format!("it should end at `{expected}`, and ended at `{found}`");
    let mut miss = judging::miss(Outcome::Otherwise, About::End, expected, found, text);
    miss.because.extend(way_parted(case, wanted.place));
    Some(miss)
}
