//! What is observed in rounds: once for each thing that a person names.

use super::Worksheet;
use crate::evidence::witness::Witness;
use crate::handbook::{FindingId, QuestionId};

impl Worksheet<'_> {
    /// Where those rounds ended in which something was observed for a finding, the latest first;
    /// none for one that isn't observed in rounds.
    pub(in crate::evidence) fn rounds_observing(&self, id: FindingId) -> Vec<usize> {
        let asked: Vec<QuestionId> = self.observed_in_rounds(id).collect();
        let is_observed = |from: usize, until: usize| {
            let known = asked.iter().flat_map(|id| self.known(*id));
            known.into_iter().any(|(_, given)| (from..until).contains(&given.order))
        };
        let rounds = self.record.rounds.iter().rev();
        let ended = rounds.filter_map(|round| Some((round.from, round.until?)));
        ended.filter(|(from, until)| is_observed(*from, *until)).map(|(_, until)| until).collect()
    }

    /// When what a witness tells of was last observed in a round.
    #[must_use]
    pub fn witness_observed_in_a_round(&self, witness: &Witness) -> Option<usize> {
        self.of_witness(witness).last_observed_in_a_round(witness.finding)
    }

    /// When what a finding looks at was last observed in a round, of the thing that the round is
    /// about; none where what it looks at is asked outside rounds too, as the pump's own floor is.
    fn last_observed_in_a_round(&self, id: FindingId) -> Option<usize> {
        let own = self.observed_in_rounds(id);
        own.filter_map(|question| self.latest_known(question).map(|given| given.order)).max()
    }

    /// The observations that a finding tests and that are made in rounds alone.
    fn observed_in_rounds(&self, id: FindingId) -> impl Iterator<Item = QuestionId> {
        let tested = self.handbook.questions_tested(id).iter().copied();
        tested.filter(|id| {
            !self.handbook.question(*id).is_setting() && self.handbook.is_asked_in_rounds(*id)
        })
    }
}
