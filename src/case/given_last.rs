//! What "back" takes back: what was given last, in turn or out of it.

use super::case::Case;
use super::event::Event;
use super::now::Passage;
use super::standing::Standing;

impl Case<'_> {
    /// The place of the event that "back" takes back: of all that stands, what was told last in
    /// time, be it an answer or a deed, in turn or out of turn, or going on with another tree. An
    /// answer counts from when it was put right last.
    #[must_use]
    pub fn given_last(&self) -> Option<usize> {
        let standing = Standing::of(self.handbook(), self.events()).events;
        let goes_on = |event: &Option<Event>| matches!(event, Some(Event::WentOn { .. }));
        let going_on = (0..standing.len()).filter(|order| goes_on(&standing[*order]));
        let passed = self.path().iter().filter_map(|passed| match passed.passage {
            Passage::Event(order) => Some(order),
            Passage::Known(_) | Passage::Through => None,
        });
        let given = self.record().given.iter().map(|given| given.order);
        let done = self.record().done.iter().map(|(_, order)| *order);
        passed.chain(given).chain(done).chain(going_on).max_by_key(|order| self.told_at(*order))
    }

    /// The place of the event that told last what stands at a place in the order.
    pub(super) fn told_at(&self, order: usize) -> usize {
        let puts_right =
            |event: &Event| matches!(event, Event::Corrected { answer, .. } if *answer == order);
        self.events().iter().rposition(puts_right).unwrap_or(order)
    }
}
