//! From a checked formula to a value over the draws. It never fails: what can't be known is
//! unknown, with the reason.
//!
//! Unknown spreads, except where logic decides: `false and unknown` is false in the draws in
//! which the first is false. An `if` needs only the branches that some draw takes. A draw that
//! is not finite makes the whole formula unknown, unless logic or an `if` did without it.

mod apply;
mod column;
mod number;
mod rows;
mod truth;

use column::{Column, Draw};

use super::check::one_line;
use super::functions::{Function, Never};
use super::resolved::{Expression, Resolved, Shape};
use super::{Checked, Draws, Facts, How, Truth, Unknown, Use, Value};

/// The value of a formula over the draws.
#[must_use]
pub fn evaluate(formula: &Checked, facts: &dyn Facts) -> Value {
    Evaluator { text: &formula.text, facts }.value(&formula.root)
}

/// Where the system of a call stops; none if some draw gives no finite place.
pub(super) fn evaluate_never(
    formula: &Checked,
    function: &Function,
    never: Never,
    values: &[Option<Expression>],
    facts: &dyn Facts,
) -> Option<Draws<f64>> {
    let evaluator = Evaluator { text: &formula.text, facts };
    let rows = rows::Rows::new(&evaluator, function, values);
    let (draws, _) = rows.apply(|given| Ok((never.law)(given)));
    draws.values().iter().all(|place| place.is_finite()).then_some(draws)
}

struct Evaluator<'a> {
    text: &'a str,
    facts: &'a dyn Facts,
}

impl Evaluator<'_> {
    fn value(&self, part: &Expression) -> Value {
        match part.shape {
            Shape::Number | Shape::Time => self.number(part).known(Value::Quantity),
            Shape::Choice => self.choice(part).known(Value::Choice),
            Shape::Truth => truth_value(self.truth(part)),
            Shape::Whole => self.whole(part),
        }
    }

    /// A part that is handed on as it is.
    fn whole(&self, part: &Expression) -> Value {
        match &part.form {
            Resolved::Constant(value) => value.clone(),
            Resolved::Recall(used) => self.recalled(*used),
            _ => Value::Unknown(self.not_finite(part)),
        }
    }

    fn recalled(&self, used: Use) -> Value {
        match used.how {
            How::Latest => self.facts.latest(used.symbol),
            How::First => self.facts.first(used.symbol),
            How::Previous => self.facts.previous(used.symbol),
            How::Before(action) => self.facts.before(action, used.symbol),
            How::Every => self.facts.every(used.symbol),
        }
    }

    fn choice(&self, part: &Expression) -> Column<u16> {
        match &part.form {
            Resolved::If(parts) => self.picked(part, parts, Self::choice),
            Resolved::Apply(function, values) => {
                let places = self.apply(part, function, values);
                let place = |x: f64| if x.is_nan() { u16::MISSING } else { x as u16 };
                Column { draws: places.draws.map(place), reason: places.reason }
            }
            _ => match self.whole(part) {
                Value::Choice(draws) => Column::new(draws, || self.not_finite(part)),
                other => Column::missing(self.reason(part, other)),
            },
        }
    }

    /// An `if`, draw by draw.
    fn picked<T: column::Draw>(
        &self,
        part: &Expression,
        [condition, then, otherwise]: &[Expression; 3],
        evaluate: impl Fn(&Self, &Expression) -> Column<T>,
    ) -> Column<T> {
        let condition = self.truth(condition);
        let takes = |wanted| condition.draws.values().contains(&wanted);
        let branch = |wanted, branch| match takes(wanted) {
            true => evaluate(self, branch),
            false => Column::missing(self.not_finite(part)),
        };
        let (then, otherwise) = (branch(Truth::Yes, then), branch(Truth::No, otherwise));
        column::pick(&condition, &then, &otherwise)
    }

    /// Why a value that is not of the shape expected is not known.
    fn reason(&self, part: &Expression, value: Value) -> Unknown {
        match value {
            Value::Unknown(reason) => reason,
            _ => self.not_finite(part),
        }
    }

    fn not_finite(&self, part: &Expression) -> Unknown {
        Unknown::NotFinite(format!("`{}`", one_line(self.text, part.range.clone())))
    }
}

/// A yes or no keeps draws that are not known, unless none is known or arithmetic failed in one.
fn truth_value(column: Column<Truth>) -> Value {
    match column.reason {
        Some(reason @ (Unknown::NotFinite(_) | Unknown::Refused(_))) => Value::Unknown(reason),
        Some(reason) if column.draws.values().iter().all(|t| *t == Truth::Unknown) => {
            Value::Unknown(reason)
        }
        _ => Value::Truth(column.draws),
    }
}
