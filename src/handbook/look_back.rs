//! What a formula or finding looks back at: earlier answers, and answers from before an action.

use std::collections::BTreeSet;

use super::model::{ActionId, Entry, FindingId, Handbook, Observes, QuestionId};
use crate::formula::{Checked, How, Symbol};

/// What is looked back at, directly and through the formulas and findings that are used. Settings
/// are left out, since they stay as they are.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LookBack {
    /// Questions of which the answer before the latest is needed.
    pub again: BTreeSet<QuestionId>,
    /// Actions with the questions of which an answer before them and one after them is needed.
    pub around: BTreeSet<(ActionId, QuestionId)>,
}

impl LookBack {
    /// What a finding looks back at, by its test and by what must hold for it.
    #[must_use]
    pub fn of_finding(handbook: &Handbook, finding: FindingId) -> Self {
        let mut look = Self::default();
        look.gather_finding(handbook, finding, &mut BTreeSet::new());
        look
    }

    /// What a formula looks back at.
    #[must_use]
    pub fn of_formula(handbook: &Handbook, formula: &Checked) -> Self {
        let mut look = Self::default();
        look.gather(handbook, formula, &mut BTreeSet::new());
        look
    }

    fn gather_finding(
        &mut self,
        handbook: &Handbook,
        finding: FindingId,
        met: &mut BTreeSet<Symbol>,
    ) {
        let finding = handbook.finding(finding);
        let test = match &finding.observes {
            Observes::When(condition) => Some(condition),
            Observes::Of(_) => None,
        };
        for formula in test.into_iter().chain(&finding.only_if) {
            self.gather(handbook, formula, met);
        }
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
            match handbook.entry(used.symbol) {
                Entry::Formula(id) => self.gather(handbook, &handbook.formula(id).is, met),
                Entry::Finding(id) => self.gather_finding(handbook, id, met),
                Entry::Question(_) => {}
            }
        }
    }
}
