//! Repairs that were proposed and passed over: they stand open until somebody has made them.

use super::headline::WORTH_NAMING;
use crate::case::{ActionId, Case, CauseId, Now};
use crate::evidence::wording::{Likelihood, word};
use crate::text::{Line, Role, list_and};

/// The repairs that stand open: passed over, not shown to be done, and meant for a cause that is
/// more than a very unlikely one.
pub(super) fn open_repairs(case: &Case<'_>) -> Vec<ActionId> {
    let mut left = case.left_undone();
    left.retain(|action| {
        let is_likely = |p: f64| word(p) > Likelihood::VeryUnlikely;
        !case.worksheet().shows_as_done(*action)
            && meant_for(case, *action)
                .into_iter()
                .any(|cause| is_likely(case.assessment().probability(cause)))
    });
    left
}

/// What is said of each repair that stands open, where the end of the tree doesn't say it already.
pub(super) fn not_done_yet(case: &Case<'_>) -> Vec<Line> {
    let said = match case.now() {
        Now::Ended { done, .. } => done.to_text(),
        _ => String::new(),
    };
    let told = open_repairs(case).into_iter().filter_map(|action| {
        let not_done = case.handbook().action(action).not_done_yet();
        let against = named(case, action);
        let line = Line::new().push(Role::Strong, "Not done yet: ");
        let text = format!("{not_done}. It is still to be done against {against}.");
        (!said.contains(&not_done)).then(|| line.push(Role::Plain, text))
    });
    told.collect()
}

/// The causes that an action is meant for, likeliest first.
fn meant_for(case: &Case<'_>, action: ActionId) -> Vec<CauseId> {
    let is_meant = |cause: &CauseId| case.handbook().cause(*cause).fix.contains(&action);
    case.assessment().ranking.iter().map(|ranked| ranked.cause).filter(is_meant).collect()
}

fn named(case: &Case<'_>, action: ActionId) -> String {
    let meant = meant_for(case, action).into_iter();
    let worth = meant.filter(|cause| case.assessment().probability(*cause) >= WORTH_NAMING);
    let names: Vec<String> = worth.map(|cause| case.cause_view(cause).in_short).collect();
    list_and(&names)
}
