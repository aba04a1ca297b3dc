//! Slots: the values that conditions look at, each a question with how it is looked at.

use std::collections::BTreeMap;

use crate::formula::How;
use crate::handbook::{ActionId, QuestionId};

/// A question's value, looked at in one way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Slot {
    pub question: QuestionId,
    pub how: How,
}

/// A place in the table of slots.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct SlotId(pub u32);

impl SlotId {
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// Every slot that some condition looks at, and the latest value of every question that is looked
/// back at.
#[derive(Debug, Default)]
pub(super) struct Slots {
    all: Vec<Slot>,
    numbers: BTreeMap<Slot, SlotId>,
    of_question: BTreeMap<QuestionId, Vec<SlotId>>,
    before: BTreeMap<usize, Vec<SlotId>>,
}

impl Slots {
    /// The slot's number, which it gets with its first use.
    pub fn number(&mut self, slot: Slot) -> SlotId {
        if let Some(number) = self.numbers.get(&slot) {
            return *number;
        }
        if slot.how != How::Latest {
            // What was is first what is, so the latest value has to be followed as well.
            self.number(Slot { how: How::Latest, ..slot });
        }
        let number = SlotId(self.all.len() as u32);
        self.all.push(slot);
        self.numbers.insert(slot, number);
        self.of_question.entry(slot.question).or_default().push(number);
        if let How::Before(action) = slot.how {
            self.before.entry(action.0 as usize).or_default().push(number);
        }
        number
    }

    /// The slot behind a number.
    pub fn get(&self, number: SlotId) -> Slot {
        self.all[number.index()]
    }

    /// The number of a question's latest value, if any condition looks at the question.
    pub fn latest(&self, question: QuestionId) -> Option<SlotId> {
        self.numbers.get(&Slot { question, how: How::Latest }).copied()
    }

    /// All slots of a question.
    pub fn of(&self, question: QuestionId) -> &[SlotId] {
        self.of_question.get(&question).map_or(&[], Vec::as_slice)
    }

    /// The slots that an action fills: what stood before it.
    pub fn before(&self, action: ActionId) -> &[SlotId] {
        self.before.get(&action.index()).map_or(&[], Vec::as_slice)
    }

    /// Every slot with its number.
    pub fn iter(&self) -> impl Iterator<Item = (SlotId, Slot)> + '_ {
        self.all.iter().enumerate().map(|(i, slot)| (SlotId(i as u32), *slot))
    }
}
