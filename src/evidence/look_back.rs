//! Earlier answers that a finding compares with: those that have to be given once more before it
//! can be told, and the repairs that have to be made.

use std::collections::BTreeSet;

use super::worksheet::Worksheet;
use crate::formula::{Checked, How, Symbol};
use crate::handbook::{ActionId, Entry, FindingId, Handbook, Observes, QuestionId};

/// What a finding looks back at.
#[derive(Clone, Debug, Default)]
pub(super) struct LookBack {
    /// Questions of which it needs the answer before the latest.
    again: BTreeSet<QuestionId>,
    /// Actions with the questions of which it needs an answer before them and one after them.
    around: BTreeSet<(ActionId, QuestionId)>,
}

impl LookBack {
    /// What a finding looks back at, by itself and through the formulas that it uses.
    pub(super) fn of(handbook: &Handbook, finding: FindingId) -> Self {
        let mut look = Self::default();
        let mut met = BTreeSet::new();
        let finding = handbook.finding(finding);
        if let Observes::When(condition) = &finding.observes {
            look.gather(handbook, condition, &mut met);
        }
        if let Some(condition) = &finding.only_if {
            look.gather(handbook, condition, &mut met);
        }
        look
    }

    fn gather(&mut self, handbook: &Handbook, formula: &Checked, met: &mut BTreeSet<Symbol>) {
        for used in formula.uses() {
            let behind = || {
                let under = handbook.questions_under(used.symbol).iter().copied();
                under.filter(|id| !handbook.question(*id).is_setting())
            };
            match used.how {
                How::Previous => self.again.extend(behind()),
                How::Before(action) => {
                    let action = ActionId::at(action.0 as usize);
                    self.around.extend(behind().map(|question| (action, question)));
                }
                How::Latest | How::First | How::Every => {}
            }
            if !met.insert(used.symbol) {
                continue;
            }
            let inner = match handbook.entry(used.symbol) {
                Entry::Formula(id) => vec![&handbook.formula(id).is],
                Entry::Finding(id) => {
                    let finding = handbook.finding(id);
                    let test = match &finding.observes {
                        Observes::When(condition) => Some(condition),
                        Observes::Of(_) => None,
                    };
                    test.into_iter().chain(&finding.only_if).collect()
                }
                Entry::Question(_) => Vec::new(),
            };
            inner.into_iter().for_each(|formula| self.gather(handbook, formula, met));
        }
    }

    /// The questions of which more than the one answer is wanted that a check brings, in the order
    /// of the handbook; none where a repair has to be made first, which no check is.
    pub(super) fn asked_again(&self, sheet: &Worksheet<'_>) -> Option<Vec<QuestionId>> {
        let mut again: Vec<QuestionId> = Vec::new();
        for (action, question) in &self.around {
            let (_, done) = sheet.actions_done().filter(|(done, _)| done == action).last()?;
            let answers = || sheet.record().answers(*question).map(|(_, given)| given.order);
            if !answers().any(|order| order < done) {
                return None;
            }
            if !answers().any(|order| order > done) {
                again.push(*question);
            }
        }
        let lacks_two = |question: &&QuestionId| sheet.record().answers(**question).count() < 2;
        again.extend(self.again.iter().filter(lacks_two));
        again.sort_unstable();
        again.dedup();
        Some(again)
    }
}
