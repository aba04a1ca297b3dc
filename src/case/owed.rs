//! A reading that a repair still waits for: until it was made nothing is known to be mended.

use super::case::Case;
use crate::evidence::wording::{Likelihood, word};
use crate::evidence::{FindingState, Proof, Witness};
use crate::handbook::{CauseId, QuestionId};

/// A repair that nobody has read again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Owed {
    /// What was repaired.
    pub cause: CauseId,
    /// What showed it, to be read again.
    pub question: QuestionId,
}

impl Case<'_> {
    /// The likeliest cause that was repaired, and since which nothing that shows it was read, where
    /// nothing else leads; with the reading that showed it.
    #[must_use]
    pub fn owed(&self) -> Option<Owed> {
        let assessment = self.assessment();
        if !assessment.nothing_leads() || !assessment.disputed.is_empty() {
            return None;
        }
        let unread = assessment
            .repaired()
            .filter(|(was, proof)| {
                *proof == Proof::NotRead && word(was.probability) >= Likelihood::Likely
            })
            .map(|(was, _)| was.cause);
        unread.filter_map(|cause| Some(Owed { cause, question: self.showed_by(cause)? })).next()
    }

    /// The question under the finding that showed a cause most often where it is there.
    fn showed_by(&self, cause: CauseId) -> Option<QuestionId> {
        let handbook = self.handbook();
        let share = |witness: &&Witness| {
            let shown_by = &handbook.finding(witness.finding).shown_by;
            shown_by.iter().any(|(shown, _)| *shown == cause)
        };
        let holds = |witness: &&Witness| matches!(witness.judged.state, FindingState::True(_));
        let showing = self.assessment().witnesses.iter().filter(holds).filter(share);
        let asked = showing.flat_map(|witness| {
            let symbol = handbook.finding(witness.finding).symbol;
            handbook.questions_under(symbol).to_vec()
        });
        let answered: Vec<QuestionId> =
            asked.filter(|id| self.latest_answer(*id).is_some()).collect();
        let is_read = |id: &&QuestionId| handbook.question(**id).instrument.is_some();
        answered.iter().find(is_read).or(answered.first()).copied()
    }
}
