//! How a region changes from step to step.

use std::collections::{BTreeMap, BTreeSet};

use super::cells::Cells;
use super::conditions::Conditions;
use super::region::{Held, Region};
use super::slot::SlotId;
use crate::formula::How;
use crate::handbook::{ActionId, Handbook, QuestionId};

/// Which questions' readings change when the tolerance of their instrument is answered.
#[derive(Debug)]
pub(super) struct Shaken(BTreeMap<QuestionId, Vec<SlotId>>);

impl Shaken {
    /// Finds for each question the slots whose instrument's error depends on it.
    pub fn of(handbook: &Handbook, conditions: &Conditions<'_>) -> Self {
        let mut shaken: BTreeMap<QuestionId, Vec<SlotId>> = BTreeMap::new();
        for (number, slot) in conditions.graph.slots.iter() {
            let symbol = handbook.question(slot.question).symbol;
            for &under in handbook.questions_under(symbol) {
                if under != slot.question {
                    shaken.entry(under).or_default().push(number);
                }
            }
        }
        Self(shaken)
    }
}

/// What a question is asked like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Asking<'a> {
    pub question: QuestionId,
    /// Questions whose answers may be outdated by this one.
    pub outdates: &'a [QuestionId],
    /// Whether it is measured anew though it has an answer.
    pub again: bool,
}

/// What asking does to a region. A question that has an answer is not asked unless `again`.
pub(super) fn ask(
    conditions: &Conditions<'_>,
    shaken: &Shaken,
    region: &mut Region,
    asking: Asking<'_>,
) {
    let Asking { question, outdates, again } = asking;
    let answers = conditions.axis(question).answers();
    for &slot in conditions.graph.slots.of(question) {
        let before = conditions.cells(region, slot);
        match conditions.graph.slots.get(slot).how {
            How::Latest if again => region.fill(slot, answers),
            How::Latest | How::First if before.has(Cells::ABSENT) => {
                region.fill(slot, before.without(Cells::ABSENT).with(answers));
            }
            How::Previous if again => region.forget(slot),
            _ => {}
        }
    }
    for slot in shaken.0.get(&question).into_iter().flatten() {
        shake(conditions, region, *slot);
    }
    outdates.iter().for_each(|outdated| may_be_outdated(conditions, region, *outdated));
}

/// The questions that asking one may outdate: where it may have been asked before, and its answer
/// may be another one now.
pub(super) fn outdated_by_asking(
    handbook: &Handbook,
    question: QuestionId,
    again: bool,
) -> &[QuestionId] {
    let may_be_another = again || handbook.outdated_by(question).is_some();
    if may_be_another { &handbook.question(question).outdates } else { &[] }
}

/// What stands for a question may be outdated, and then is as if it had not been asked.
fn may_be_outdated(conditions: &Conditions<'_>, region: &mut Region, question: QuestionId) {
    for &slot in conditions.graph.slots.of(question) {
        match conditions.graph.slots.get(slot).how {
            How::Latest => {
                if let Some(held) = region.get(slot) {
                    region.fill(slot, held.cells.with(Cells::ABSENT));
                }
            }
            How::Previous => region.forget(slot),
            _ => {}
        }
    }
}

/// A reading keeps its number but not its doubt.
fn shake(conditions: &Conditions<'_>, region: &mut Region, slot: SlotId) {
    if let Some(held) = region.get(slot)
        && !held.cells.known().is_none()
    {
        region.fill(slot, held.cells.with(conditions.axis_of(slot).known()));
    }
}

/// What doing an action does to a region.
pub(super) fn act(
    conditions: &Conditions<'_>,
    region: &mut Region,
    (action, outdates): (ActionId, &[QuestionId]),
) {
    region.has_acted = true;
    let slots = &conditions.graph.slots;
    for &slot in slots.before(action) {
        match slots.latest(slots.get(slot).question).and_then(|latest| region.get(latest)) {
            Some(latest) => region.hold(Held { slot, ..latest }),
            None => region.forget(slot),
        }
    }
    for &question in outdates {
        may_be_outdated(conditions, region, question);
        if let Some(latest) = slots.latest(question) {
            region.fill(latest, Cells::ABSENT);
        }
    }
}

/// What a visited tree may do, as far as the tree that visits it is concerned.
#[derive(Clone, Debug, Default)]
pub(super) struct Doings {
    /// The questions that it may ask, itself or in trees that it leads to; with whether one of
    /// the steps asks anew.
    pub asked: BTreeMap<QuestionId, bool>,
    /// The actions that it may do.
    pub done: Vec<ActionId>,
    /// The questions whose answers it may outdate.
    pub outdated: BTreeSet<QuestionId>,
}

/// The region after a visit, from the one before and one in which the visited tree ends.
pub(super) fn after_visit(
    conditions: &Conditions<'_>,
    shaken: &Shaken,
    before: &Region,
    doings: &Doings,
    exit: &Region,
) -> Option<Region> {
    let mut after = before.clone();
    after.has_acted |= !doings.done.is_empty();
    let slots = &conditions.graph.slots;
    for (question, again) in &doings.asked {
        for &slot in slots.of(*question) {
            let held = conditions.cells(before, slot);
            let stays = !again && !held.has(Cells::ABSENT);
            if !stays || !matches!(slots.get(slot).how, How::Latest | How::First) {
                after.forget(slot);
            }
        }
        for slot in shaken.0.get(question).into_iter().flatten() {
            shake(conditions, &mut after, *slot);
        }
    }
    for slot in doings.outdated.iter().flat_map(|question| slots.of(*question)) {
        after.forget(*slot);
    }
    for slot in doings.done.iter().flat_map(|action| slots.before(*action)) {
        after.forget(*slot);
    }
    for held in exit.held() {
        let cells = conditions.cells(&after, held.slot).within(held.cells);
        if cells.is_none() {
            return None;
        }
        let own = after.get(held.slot);
        let decided = own.map_or(0, |own| own.decided).saturating_add(held.decided);
        let draws = own.map_or(held.draws, |own| own.draws.within(held.draws));
        after.hold(Held { slot: held.slot, cells, draws: draws.with(cells), decided });
    }
    Some(after)
}
