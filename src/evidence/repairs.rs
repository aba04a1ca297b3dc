//! The repairs of a handbook in the order to try, with what each costs from here.

use std::collections::BTreeSet;

use super::plan::{Repair, plan};
use super::worksheet::Worksheet;
use crate::handbook::{ActionId, CauseId, Handbook};

/// How long an action takes that does not say so, in minutes (`estimate`).
const ACTING: f64 = 30.0;
/// Testing again after a repair, in minutes (`estimate`: pull down and read).
const TESTING_AGAIN: f64 = 10.0;
/// What calling in a licensed person costs, in minutes (`estimate`: half a day).
pub const REFERRAL: f64 = 240.0;
/// How often a repair named for a cause mends it, where the author does not say (`estimate`).
const MENDS: f64 = 0.8;

/// A repair in its order.
#[derive(Clone, Debug, PartialEq)]
pub struct RepairStep {
    /// What to do.
    pub action: ActionId,
    /// What has to be done before it, as things stand.
    pub first: Vec<ActionId>,
    /// What it costs with that and the test after it, in minutes.
    pub minutes: f64,
    /// How probable it is that it mends all that is left, if those before it have not.
    pub mends: f64,
    /// How probable it is that everything is mended with it and those before it.
    pub restored: f64,
}

/// The order of repairs; `states` are the probabilities of the sets of causes there now.
#[must_use]
pub fn repairs(sheet: &Worksheet<'_>, states: &[f64]) -> Vec<RepairStep> {
    let handbook = sheet.handbook();
    let conditions = conditions(sheet);
    let mut actions: Vec<ActionId> = Vec::new();
    let mut offered: Vec<Repair> = Vec::new();
    for action in handbook.action_ids() {
        let cures = cures(handbook, action);
        if !cures.is_empty() {
            let minutes = TESTING_AGAIN + cost(handbook, action, &conditions);
            offered.push(Repair { minutes, cures });
            actions.push(action);
        }
    }
    let planned = plan(states, &offered, REFERRAL);
    let step = |planned: &super::plan::Planned| RepairStep {
        action: actions[planned.repair],
        first: preparation(handbook, actions[planned.repair], &conditions),
        minutes: offered[planned.repair].minutes,
        mends: planned.mends,
        restored: planned.restored,
    };
    planned.iter().map(step).collect()
}

/// What an action may cure, and how often.
fn cures(handbook: &Handbook, action: ActionId) -> Vec<(usize, f64)> {
    let of = |id: CauseId| {
        let cause = handbook.cause(id);
        let stated = cause.cured_by.iter().find(|(cure, _)| *cure == action);
        let named = cause.fix.contains(&action).then_some(MENDS);
        stated.map(|(_, share)| *share).or(named).map(|share| (id.index(), share))
    };
    handbook.cause_ids().filter_map(of).collect()
}

/// The conditions that the actions done so far have left.
fn conditions(sheet: &Worksheet<'_>) -> BTreeSet<String> {
    let done = sheet.actions_done().map(|(action, _)| sheet.handbook().action(action));
    done.flat_map(|action| action.leaves.iter().cloned()).collect()
}

/// Minutes of an action with what it needs before.
fn cost(handbook: &Handbook, action: ActionId, conditions: &BTreeSet<String>) -> f64 {
    let before: f64 =
        preparation(handbook, action, conditions).iter().map(|id| minutes(handbook, *id)).sum();
    before + minutes(handbook, action)
}

fn minutes(handbook: &Handbook, action: ActionId) -> f64 {
    handbook.action(action).takes.map_or(ACTING, |seconds| seconds / 60.0)
}

/// The quickest action that brings about each condition that is missing; what nothing brings
/// about is for the person to see to.
fn preparation(
    handbook: &Handbook,
    action: ActionId,
    conditions: &BTreeSet<String>,
) -> Vec<ActionId> {
    let missing = handbook.action(action).needs.iter().filter(|need| !conditions.contains(*need));
    let mut first: Vec<ActionId> = Vec::new();
    for need in missing {
        // A repair is no preparation for another one.
        let brings = |id: &ActionId| {
            handbook.action(*id).leaves.contains(need) && cures(handbook, *id).is_empty()
        };
        let quickest = handbook
            .action_ids()
            .filter(brings)
            .min_by(|a, b| minutes(handbook, *a).total_cmp(&minutes(handbook, *b)));
        first.extend(quickest.filter(|id| !first.contains(id)));
    }
    first
}
