//! Which answer a look at a question comes to.

use super::Worksheet;
use crate::evidence::record::{Given, Reply};
use crate::formula::{How, Symbol};
use crate::handbook::QuestionId;

impl<'a> Worksheet<'a> {
    /// The answer of a question that a look at it comes to.
    pub(super) fn given(&self, id: QuestionId, how: How) -> Option<&'a Given> {
        let said = |seen: Vec<(usize, &'a Given)>| {
            seen.into_iter().rev().find(|(_, given)| given.reply != Reply::Skipped)
        };
        let (_, given) = match how {
            How::Latest => said(self.seen(id)),
            How::First => self.known(id).first().copied(),
            How::Previous => self.of_others(&self.known(id)).last().copied(),
            How::Before(action) => {
                let order = self.last_done(action)?;
                let before = self.narrowed(order, self.view.round, self.view.assumes_settings);
                said(before.seen(id))
            }
            How::Every => None,
        }?;
        Some(given)
    }

    /// The place of the latest time that an action was done.
    pub(super) fn last_done(&self, action: Symbol) -> Option<usize> {
        let end = self.view.until.min(self.view.observed_until);
        let done = self.record.done.iter().rev();
        let mut orders =
            done.filter(|(done, _)| done.index() == action.0 as usize).map(|(_, order)| *order);
        orders.find(|order| *order < end)
    }
}
