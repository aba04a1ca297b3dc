//! What is observed in rounds: once for each thing that a person names.

use super::Worksheet;
use crate::evidence::witness::Witness;
use crate::handbook::{FindingId, QuestionId, Tree};

impl Worksheet<'_> {
    /// Where those rounds ended in which something was observed for a finding, the latest first;
    /// none for one that isn't observed in rounds.
    pub(in crate::evidence) fn rounds_observing(&self, id: FindingId) -> Vec<usize> {
        let mut asked = self.questions_tested(id);
        asked.retain(|id| !self.handbook.question(*id).is_setting() && self.is_of_rounds(*id));
        let is_observed = |from: usize, until: usize| {
            let known = asked.iter().flat_map(|id| self.known(*id));
            known.into_iter().any(|(_, given)| (from..until).contains(&given.order))
        };
        let rounds = self.record.rounds.iter().rev();
        let ended = rounds.filter_map(|round| Some((round.from, round.until?)));
        ended.filter(|(from, until)| is_observed(*from, *until)).map(|(_, until)| until).collect()
    }

    /// Whether a question is asked in rounds and nowhere else, so that each answer belongs to the
    /// thing that its round is about.
    pub(super) fn is_of_rounds(&self, question: QuestionId) -> bool {
        let asks = |tree: &&Tree| tree.questions().any(|asked| asked == question);
        let mut asking = self.handbook.trees().iter().filter(asks).peekable();
        asking.peek().is_some() && asking.all(|tree| tree.rounds.is_some())
    }

    /// When what a witness tells of was last observed in a round.
    #[must_use]
    pub fn witness_observed_in_a_round(&self, witness: &Witness) -> Option<usize> {
        self.of_witness(witness).last_observed_in_a_round(witness.finding)
    }

    /// When what a finding looks at was last observed in a round, of the thing that the round is
    /// about; none where what it looks at is asked outside rounds too, as the pump's own floor is.
    fn last_observed_in_a_round(&self, id: FindingId) -> Option<usize> {
        let questions = self.questions_tested(id).into_iter();
        let is_setting = |id: &QuestionId| self.handbook.question(*id).is_setting();
        let own = questions.filter(|id| self.is_of_rounds(*id) && !is_setting(id));
        own.filter_map(|question| self.known(question).last().map(|(_, given)| given.order)).max()
    }
}
