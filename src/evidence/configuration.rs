//! What stands on site: the conditions that the actions done have left behind, such as a warm pump,
//! and what has to be done before an action as things stand.

use std::collections::BTreeSet;

use super::worksheet::Worksheet;
use crate::handbook::{Action, ActionId, Handbook};

/// How long an action takes that does not say so, in minutes (`estimate`).
const ACTING: f64 = 30.0;

/// The conditions that stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Configuration {
    stands: BTreeSet<String>,
}

impl Configuration {
    /// After the actions that have been done; what an answer shows as done already, as with the
    /// water side of a system that has none, stands from the beginning.
    pub(super) fn of(sheet: &Worksheet<'_>) -> Self {
        let mut configuration = Self::default();
        let handbook = sheet.handbook();
        for action in handbook.action_ids().filter(|action| sheet.shows_as_done(*action)) {
            configuration.stands.extend(handbook.action(action).leaves.iter().cloned());
        }
        for (action, _) in sheet.actions_done() {
            configuration.after(sheet.handbook().action(action));
        }
        configuration
    }

    /// Whether all that an action is good for stands already; never where it leaves nothing.
    pub(super) fn has_all_of(&self, action: &Action) -> bool {
        let mut leaves = action.leaves.iter();
        !action.leaves.is_empty() && leaves.all(|condition| self.stands.contains(condition))
    }

    /// The action is done: what it ends stands no longer, what it leaves does.
    pub(super) fn after(&mut self, action: &Action) {
        self.stands.retain(|condition| !action.ends.contains(condition));
        self.stands.extend(action.leaves.iter().cloned());
    }

    /// Does what an action needs and then the action; gives what had to be done before it, in
    /// order. What no action brings about is for the person to see to.
    pub(super) fn act(&mut self, handbook: &Handbook, action: ActionId) -> Vec<ActionId> {
        let mut first = Vec::new();
        self.prepare(handbook, action, &mut vec![action], &mut first);
        self.after(handbook.action(action));
        first
    }

    /// Minutes of an action with what it needs before, as things stand.
    pub(super) fn minutes(&self, handbook: &Handbook, action: ActionId) -> f64 {
        let before = self.clone().act(handbook, action);
        before.iter().chain([&action]).map(|id| minutes(handbook, *id)).sum()
    }

    /// `met` are the actions that are prepared already, so that two which need each other end.
    fn prepare(
        &mut self,
        handbook: &Handbook,
        action: ActionId,
        met: &mut Vec<ActionId>,
        first: &mut Vec<ActionId>,
    ) {
        for need in &handbook.action(action).needs {
            if self.stands.contains(need) {
                continue;
            }
            let Some(quickest) = quickest(handbook, need).filter(|id| !met.contains(id)) else {
                continue;
            };
            met.push(quickest);
            self.prepare(handbook, quickest, met, first);
            self.after(handbook.action(quickest));
            first.push(quickest);
        }
    }
}

/// The quickest action that brings a condition about; a repair is no preparation for another one.
fn quickest(handbook: &Handbook, condition: &String) -> Option<ActionId> {
    let brings = |id: &ActionId| {
        handbook.action(*id).leaves.contains(condition) && !is_repair(handbook, *id)
    };
    let ids = handbook.action_ids().filter(brings);
    ids.min_by(|a, b| minutes(handbook, *a).total_cmp(&minutes(handbook, *b)))
}

/// Whether an action may cure something.
fn is_repair(handbook: &Handbook, action: ActionId) -> bool {
    handbook.causes().iter().any(|cause| {
        cause.fix.contains(&action) || cause.cured_by.iter().any(|(cure, _)| *cure == action)
    })
}

/// Minutes of an action alone.
fn minutes(handbook: &Handbook, action: ActionId) -> f64 {
    handbook.action(action).takes.map_or(ACTING, |seconds| seconds / 60.0)
}
