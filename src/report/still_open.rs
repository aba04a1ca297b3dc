//! What an end of an earlier tree advised, and nobody has done since.

use super::going_on::{could_tell, has_been_through};
use crate::case::{Case, Event, Place, TreeId};
use crate::evidence::Insight;
use crate::handbook::StepKind;
use crate::text::{Line, Role};

/// The tree that the latest end before the present one would go on with, if the case has not been
/// through it and it could still tell something. Whoever then chose another way was given that
/// advice, and it stands.
pub(super) fn still_open(
    case: &Case<'_>,
    insight: &Insight,
    going: Option<TreeId>,
) -> Option<TreeId> {
    let went_on = case.events().iter().filter_map(|event| match event {
        Event::WentOn { tree } => case.handbook().find_tree(tree),
        _ => None,
    });
    let begun: Vec<TreeId> = std::iter::once(case.tree()).chain(went_on).collect();
    let kind = |place: Place| &case.handbook().tree(place.tree).step(place.step).kind;
    let visited = case.path().iter().filter_map(|step| match kind(step.place) {
        StepKind::Visit(tree) => Some(*tree),
        _ => None,
    });
    // A tree that another one calls goes back to it at its end, and advises nothing.
    let visited: Vec<TreeId> = visited.filter(|tree| !begun.contains(tree)).collect();
    let offers = case.path().iter().filter_map(|step| match kind(step.place) {
        StepKind::End { then, .. } if !visited.contains(&step.place.tree) => Some(then),
        _ => None,
    });
    let offers: Vec<&Vec<TreeId>> = offers.collect();
    let (_, earlier) = offers.split_last()?;
    let advised = earlier.last()?.first().copied()?;
    let is_open = going != Some(advised) && !has_been_through(case, advised);
    (is_open && could_tell(case, insight, advised)).then_some(advised)
}

/// That advice as a line.
pub(super) fn still_open_line(case: &Case<'_>, tree: TreeId) -> Line {
    let title = case.tree_view(tree).1;
    let stated = case.handbook().tree(tree).takes.map(|seconds| seconds / 60.0);
    let cost = stated.map(|minutes| format!(" (about {minutes:.0} min)")).unwrap_or_default();
    let text = format!("- As was advised before, and is still open: \"{title}\".");
    Line::plain(text).push(Role::Quiet, cost)
}
