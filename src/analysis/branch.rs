//! The ways out of a step.

use crate::handbook::{Next, Step, Target};

/// One way out of a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Branch {
    /// The only way there is.
    Always,
    /// By an answer, by its place in the order of the choices; no before yes.
    Answer(usize),
    /// By an answer that says nothing.
    NotSure,
    /// By a condition that holds, by its place in the list.
    Rule(usize),
    /// By none of the conditions.
    Otherwise,
    /// By a condition that is too close to call.
    TooClose,
    /// By a condition that can't be told.
    Unknown,
    /// By a bound that is used up.
    UsedUp,
}

/// Where a branch of a step leads; none if the step has no such branch.
#[must_use]
pub fn target_of(step: &Step, branch: Branch) -> Option<Target> {
    match (&step.next, branch) {
        (_, Branch::UsedUp) => step.bound.map(|(_, then)| Target::Step(then)),
        (Next::Always(target), Branch::Always) => Some(*target),
        (Next::ByAnswer { targets, .. }, Branch::Answer(place)) => targets.get(place).copied(),
        (Next::ByAnswer { targets, not_sure }, Branch::NotSure) => {
            not_sure.or(targets.last().copied())
        }
        (Next::ByRules { rules, .. }, Branch::Rule(place)) => rules.get(place).map(|rule| rule.go),
        (Next::ByRules { otherwise, .. }, Branch::Otherwise) => Some(*otherwise),
        (Next::ByRules { otherwise, too_close, .. }, Branch::TooClose) => {
            Some(too_close.unwrap_or(*otherwise))
        }
        (Next::ByRules { otherwise, unknown, .. }, Branch::Unknown) => {
            Some(unknown.unwrap_or(*otherwise))
        }
        _ => None,
    }
}

/// Every branch that a step's author has written, in their order.
#[must_use]
pub fn branches_of(step: &Step) -> Vec<Branch> {
    let mut branches = match &step.next {
        Next::Nothing => Vec::new(),
        Next::Always(_) => vec![Branch::Always],
        Next::ByAnswer { targets, not_sure } => {
            let answers = (0..targets.len()).map(Branch::Answer);
            answers.chain(not_sure.map(|_| Branch::NotSure)).collect()
        }
        Next::ByRules { rules, too_close, unknown, .. } => {
            let ruled = (0..rules.len()).map(Branch::Rule).chain([Branch::Otherwise]);
            let close = too_close.map(|_| Branch::TooClose);
            ruled.chain(close).chain(unknown.map(|_| Branch::Unknown)).collect()
        }
    };
    branches.extend(step.bound.map(|_| Branch::UsedUp));
    branches
}
