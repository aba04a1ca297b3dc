//! Ways on which an answer is missing that something rests on.

use super::example::with_answers;
use crate::analysis::effort::Effort;
use crate::analysis::moment::Moment;
use crate::analysis::reach::Analysis;
use crate::analysis::route::Event;
use crate::analysis::witness::{Answering, Goal, Hunt};
use crate::formula::{Checked, Unknown, Value, evaluate};
use crate::handbook::{Handbook, QuestionId};

/// An answer that something rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Needed {
    pub question: QuestionId,
    /// Whether it is the one before the latest.
    pub is_earlier: bool,
}

/// A search for a way to a goal on which formulas come to nothing for want of an answer.
pub(super) struct WayWithout<'a, 'h> {
    pub analysis: &'a Analysis<'h>,
    pub goal: Goal,
    pub formulas: Vec<&'a Checked>,
    /// Formulas that are known there, such as the conditions that come first.
    pub known: Vec<&'a Checked>,
    /// What some way there may lack.
    pub open: &'a [Needed],
    pub effort: &'a Effort,
}

impl WayWithout<'_, '_> {
    /// What is missing, and in words the answers that lead there without it, if any are needed.
    pub fn find(&self) -> Option<(Needed, Option<String>)> {
        let handbook = self.analysis.handbook();
        let hunt = Hunt::new(self.analysis, self.goal, Answering::InTurn, self.effort);
        let mut found = None;
        hunt.each_route(|events| {
            let is_there = |needed: &Needed| {
                let asks = |event: &&Event| event.asks(needed.question);
                // What has an answer is passed, unless it is asked again.
                let anew = events.iter().filter(asks).skip(1).filter(|event| event.asks_anew());
                let asked = events.iter().any(|event| event.asks(needed.question));
                asked && (!needed.is_earlier || anew.count() > 0)
            };
            if self.open.iter().all(is_there) {
                return false;
            }
            let Ok((solution, said)) = hunt.along(events) else { return false };
            let moment = Moment::new(handbook, &solution.past, &said, &self.analysis.chances);
            let is_unknown =
                |formula: &&Checked| matches!(evaluate(formula, &moment), Value::Unknown(_));
            if self.known.iter().any(is_unknown) {
                return false;
            }
            let missing = self.formulas.iter().find_map(|formula| {
                let Value::Unknown(why) = evaluate(formula, &moment) else { return None };
                self.missing(handbook, &why)
            });
            found = missing
                .map(|needed| (needed, with_answers(handbook, &solution.witness(handbook, &said))));
            found.is_some()
        });
        found
    }

    fn missing(&self, handbook: &Handbook, why: &Unknown) -> Option<Needed> {
        let (id, is_earlier) = match why {
            Unknown::NotAnswered(id) | Unknown::Outdated(id, _) => (id, false),
            Unknown::NoEarlier(id) => (id, true),
            _ => return None,
        };
        let needed = Needed { question: handbook.find_question(id)?, is_earlier };
        self.open.contains(&needed).then_some(needed)
    }
}
