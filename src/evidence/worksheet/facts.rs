//! What formulas and texts ask of a worksheet.

use super::Worksheet;
use crate::evidence::record::{Reach, Reply};
use crate::formula::{Applied, Checked, Facts, Kind, Symbol, Unknown, Use, Value};
use crate::handbook::{Entry, Finding, Observes, QuestionId};
use crate::quantity::{UnitExpression, show_as_typed};

impl Facts for Worksheet<'_> {
    fn latest(&self, symbol: Symbol) -> Value {
        if let Some(value) = self.evaluated.values.borrow().get(&symbol) {
            return value.clone();
        }
        let look = || match self.untouched(symbol) {
            Some(base) => base.latest(symbol),
            None => self.entry_value(symbol),
        };
        let value = self.kept_value(symbol).unwrap_or_else(look);
        self.evaluated.values.borrow_mut().insert(symbol, value.clone());
        value
    }

    fn first(&self, symbol: Symbol) -> Value {
        // What was there first is what is asked for, whatever has changed since.
        self.nth_answer(symbol, |known| known.first().copied(), Self::answer_value)
    }

    fn previous(&self, symbol: Symbol) -> Value {
        let before_latest = |known: &[_]| self.of_others(known).last().copied();
        self.nth_answer(symbol, before_latest, Self::held_value)
    }

    fn before(&self, action: Symbol, symbol: Symbol) -> Value {
        match self.last_done(action) {
            Some(order) => {
                self.narrowed(order, self.view.round, self.view.assumes_settings).latest(symbol)
            }
            None => Value::Unknown(Unknown::NoEarlier(self.name(symbol).to_owned())),
        }
    }

    fn every(&self, symbol: Symbol) -> Value {
        let values: Vec<Value> = match self.handbook.entry(symbol) {
            Entry::Question(id) => {
                let question = self.handbook.question(id);
                let answered = self.known(id);
                answered
                    .into_iter()
                    .map(|(n, given)| self.answer_value(question, n, given))
                    .collect()
            }
            _ => self
                .rounds_of(symbol)
                .into_iter()
                .map(|round| {
                    self.narrowed(self.view.until, Some(round), self.view.assumes_settings)
                        .latest(symbol)
                })
                .collect(),
        };
        if values.is_empty() {
            return Value::Unknown(Unknown::NotAnswered(self.name(symbol).to_owned()));
        }
        Value::List(values.into())
    }

    fn name(&self, symbol: Symbol) -> &str {
        self.handbook.symbol_name(symbol)
    }

    fn unit(&self, symbol: Symbol) -> Option<&UnitExpression> {
        self.handbook.unit(symbol)
    }

    fn is_assumed(&self, symbol: Symbol) -> bool {
        let latest = |id: QuestionId| {
            let mut seen = self.seen(id).into_iter();
            seen.rfind(|(_, given)| given.reply != Reply::Skipped)
        };
        let is_taken = |id: &QuestionId| {
            self.handbook.question(*id).not_sure.is_some()
                && latest(*id).is_some_and(|(_, given)| !given.reply.is_known())
        };
        let under = self.handbook.questions_under(symbol);
        under.iter().all(|id| self.handbook.question(*id).is_setting())
            && under.iter().any(is_taken)
    }

    fn is_answered(&self, symbol: Symbol) -> bool {
        matches!(self.handbook.entry(symbol), Entry::Question(_))
    }

    fn as_given(&self, used: Use) -> Option<String> {
        let Entry::Question(id) = self.handbook.entry(used.symbol) else { return None };
        let given = self.given(id, used.how)?;
        let Reply::Quantity { si, half_width: None, reach } = given.reply else { return None };
        let Kind::Quantity(kind) = self.handbook.question(id).kind else { return None };
        let shown = show_as_typed(si, self.unit(used.symbol)?, kind)?;
        Some(match reach {
            Reach::Exact => shown,
            Reach::Over => format!("over {shown}"),
            Reach::Under => format!("under {shown}"),
        })
    }

    fn said(&self, symbol: Symbol) -> Option<String> {
        match self.handbook.entry(symbol) {
            Entry::Formula(id) => self.handbook.formula(id).name.clone(),
            Entry::Finding(id) => self.handbook.finding(id).name.clone(),
            Entry::Question(_) => None,
        }
    }

    fn applied(&self) -> Option<&Applied> {
        Some(self.streams.applied())
    }

    fn behind(&self, symbol: Symbol) -> Option<&Checked> {
        match self.handbook.entry(symbol) {
            Entry::Formula(id) => Some(&self.handbook.formula(id).is),
            Entry::Finding(_) | Entry::Question(_) => None,
        }
    }

    fn choice_label(&self, symbol: Symbol, choice: usize) -> String {
        let question = match self.handbook.entry(symbol) {
            Entry::Question(id) => id,
            Entry::Finding(id) => match self.handbook.finding(id) {
                Finding { observes: Observes::Of(question), .. } => *question,
                _ => return choice.to_string(),
            },
            Entry::Formula(_) => return choice.to_string(),
        };
        self.handbook.question(question).choice_label(choice)
    }
}
