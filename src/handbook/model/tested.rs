//! What a finding looks at, and what is asked in rounds: fixed with the handbook, and looked at
//! for every finding each time that a case is judged.

use super::handbook::Parts;
use super::{Observes, QuestionId};
use crate::formula::Use;

/// For each finding, the questions that its test can be traced to, in order, each once.
pub(super) fn questions_tested(parts: &Parts) -> Vec<Vec<QuestionId>> {
    let tested = |observes: &Observes| match observes {
        Observes::Of(question) => vec![*question],
        Observes::When(condition) => {
            let under = |used: &Use| {
                parts.questions_under.get(used.symbol.0 as usize).cloned().unwrap_or_default()
            };
            let mut tested: Vec<QuestionId> =
                condition.uses().iter().flat_map(|used| under(used).to_vec()).collect();
            tested.sort_unstable();
            tested.dedup();
            tested
        }
    };
    parts.findings.iter().map(|finding| tested(&finding.observes)).collect()
}

/// For each question, whether it is asked in rounds and nowhere else, so that each answer belongs
/// to the thing that its round is about.
pub(super) fn asked_in_rounds(parts: &Parts) -> Vec<bool> {
    let mut asked = vec![(false, false); parts.questions.len()];
    for tree in &parts.trees {
        for question in tree.questions() {
            let (in_rounds, elsewhere) = &mut asked[question.0];
            *(if tree.rounds.is_some() { in_rounds } else { elsewhere }) = true;
        }
    }
    asked.into_iter().map(|(in_rounds, elsewhere)| in_rounds && !elsewhere).collect()
}
