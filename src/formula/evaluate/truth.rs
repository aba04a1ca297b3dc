//! Comparisons and logic, draw by draw, with three values: yes, no, not known.

use super::Evaluator;
use super::column::{Column, Draw, first_reason};
use crate::formula::resolved::{Expression, Resolved, Shape};
use crate::formula::syntax::Order;
use crate::formula::{Draws, Truth, Value};

impl Evaluator<'_> {
    /// A part that is a yes or no.
    pub(super) fn truth(&self, part: &Expression) -> Column<Truth> {
        match &part.form {
            Resolved::Compare(values, orders) => self.compared(part, values, orders),
            Resolved::Is(left, is_negated, options) => self.is(part, left, *is_negated, options),
            Resolved::Includes(choices, place) => self.includes(choices, *place),
            Resolved::Not(inner) => {
                let inner = self.truth(inner);
                Column { draws: inner.draws.map(not), reason: inner.reason }
            }
            Resolved::And(parts) => self.joined(part, parts, Ord::min, Truth::No),
            Resolved::Or(parts) => self.joined(part, parts, Ord::max, Truth::Yes),
            Resolved::If(parts) => self.picked(part, parts, Self::truth),
            Resolved::Apply(function, values) => {
                let told = self.apply(part, function, values);
                Column { draws: told.draws.map(truth_of), reason: told.reason }
            }
            _ => match self.whole(part) {
                Value::Truth(draws) => Column::new(draws, || self.not_finite(part)),
                other => Column::missing(self.reason(part, other)),
            },
        }
    }

    /// Parts joined, as far as needed: one that settles the whole in every draw stands for it.
    fn joined(
        &self,
        part: &Expression,
        parts: &[Expression],
        join: impl Fn(Truth, Truth) -> Truth + Copy,
        settles: Truth,
    ) -> Column<Truth> {
        let mut columns: Vec<Column<Truth>> = Vec::with_capacity(parts.len());
        for inner in parts {
            let column = self.truth(inner);
            if column.draws.values().iter().all(|truth| *truth == settles) {
                return Column { draws: Draws::Same(settles), reason: None };
            }
            columns.push(column);
        }
        self.merged(part, &columns, join)
    }

    /// Columns joined in their order; a reason stays only where a draw stays unknown.
    fn merged(
        &self,
        part: &Expression,
        columns: &[Column<Truth>],
        join: impl Fn(Truth, Truth) -> Truth + Copy,
    ) -> Column<Truth> {
        let mut rest = columns.iter();
        let Some(first) = rest.next() else {
            return Column::missing(self.not_finite(part));
        };
        let draws = rest.fold(first.draws.clone(), |sofar, next| sofar.zip(&next.draws, join));
        let reason = first_reason(columns);
        Column::new(draws, || reason.unwrap_or_else(|| self.not_finite(part)))
    }

    fn compared(
        &self,
        part: &Expression,
        values: &[Expression],
        orders: &[Order],
    ) -> Column<Truth> {
        let columns: Vec<Column<f64>> = values.iter().map(|value| self.number(value)).collect();
        let links: Vec<Column<Truth>> = columns
            .windows(2)
            .zip(orders)
            .map(|(pair, order)| {
                let draws = in_order(&pair[0].draws, &pair[1].draws, *order);
                let reason = first_reason(pair);
                Column::new(draws, || reason.unwrap_or_else(|| self.not_finite(part)))
            })
            .collect();
        self.merged(part, &links, Ord::min)
    }

    fn is(
        &self,
        part: &Expression,
        left: &Expression,
        is_negated: bool,
        options: &[Expression],
    ) -> Column<Truth> {
        let equals: Vec<Column<Truth>> = match left.shape {
            Shape::Choice => self.equal(part, left, options, Self::choice),
            Shape::Truth => self.equal(part, left, options, Self::truth),
            _ => self.equal(part, left, options, Self::number),
        };
        let any = self.merged(part, &equals, Ord::max);
        match is_negated {
            true => Column { draws: any.draws.map(not), reason: any.reason },
            false => any,
        }
    }

    fn equal<T: Draw + PartialEq>(
        &self,
        part: &Expression,
        left: &Expression,
        options: &[Expression],
        evaluate: impl Fn(&Self, &Expression) -> Column<T>,
    ) -> Vec<Column<Truth>> {
        let left = evaluate(self, left);
        options
            .iter()
            .map(|option| {
                let option = evaluate(self, option);
                let draws = left.draws.zip(&option.draws, |a, b| when_known(a, b, || a == b));
                let reason = left.reason.clone().or(option.reason);
                Column::new(draws, || reason.unwrap_or_else(|| self.not_finite(part)))
            })
            .collect()
    }

    fn includes(&self, choices: &Expression, place: usize) -> Column<Truth> {
        match self.whole(choices) {
            Value::Choices(named) => {
                let is_named = named.get(place).copied().unwrap_or(false);
                Column { draws: Draws::Same(truth(is_named)), reason: None }
            }
            other => Column::missing(self.reason(choices, other)),
        }
    }
}

fn truth(holds: bool) -> Truth {
    if holds { Truth::Yes } else { Truth::No }
}

/// Whether an order holds, draw by draw. Each order has a loop of its own.
fn in_order(left: &Draws<f64>, right: &Draws<f64>, order: Order) -> Draws<Truth> {
    match order {
        Order::Less => left.zip(right, |a, b| when_known(a, b, || a < b)),
        Order::AtMost => left.zip(right, |a, b| when_known(a, b, || a <= b)),
        Order::Greater => left.zip(right, |a, b| when_known(a, b, || a > b)),
        Order::AtLeast => left.zip(right, |a, b| when_known(a, b, || a >= b)),
    }
}

fn when_known<T: Draw>(a: T, b: T, holds: impl FnOnce() -> bool) -> Truth {
    if a.is_missing() || b.is_missing() { Truth::Unknown } else { truth(holds()) }
}

fn not(a: Truth) -> Truth {
    match a {
        Truth::Yes => Truth::No,
        Truth::No => Truth::Yes,
        Truth::Unknown => Truth::Unknown,
    }
}

/// A function gives 1 for yes and 0 for no.
fn truth_of(told: f64) -> Truth {
    match told {
        told if told.is_nan() => Truth::MISSING,
        told if told > 0.5 => Truth::Yes,
        _ => Truth::No,
    }
}
