//! The round that is going on, and what rounds are about.

use super::case::Case;
use super::now::RoundEnd;
use crate::text::Line;

impl Case<'_> {
    /// The round that is going on, as far as it has come; none between rounds.
    #[must_use]
    pub fn open_round(&self) -> Option<RoundEnd> {
        let round = self.record().rounds.iter().rev().find(|round| round.until.is_none())?;
        let has_ended = self.round_ends().iter().any(|ended| ended.from == round.from);
        let until = self.events().len();
        (!has_ended).then(|| RoundEnd { from: round.from, until, left_at: None, done: Line::new() })
    }

    /// What a round is about, as somebody named it.
    #[must_use]
    pub fn round_name(&self, round: &RoundEnd) -> Option<&str> {
        let named = self.record().given.iter().find(|given| given.order == round.from)?;
        Some(named.typed.as_str())
    }
}
