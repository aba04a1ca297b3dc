//! Functions applied draw by draw.

use std::sync::Arc;

use super::Evaluator;
use super::column::{Column, Draw, first_reason};
use super::rows::Rows;
use crate::formula::applied::{Inputs, Outcome};
use crate::formula::functions::{Body, Function, Given, OutOfRange, Refusal};
use crate::formula::hold::HoldDraw;
use crate::formula::resolved::{Expression, Resolved, Use};
use crate::formula::{DRAWS, Draws, Kind, Unknown, Value};
use crate::quantity::QuantityKind;

impl Evaluator<'_> {
    pub(super) fn apply(
        &self,
        part: &Expression,
        function: &Function,
        values: &[Option<Expression>],
    ) -> Column<f64> {
        match function.body {
            Body::Each(law) => self.each(part, function, law, values),
            Body::Hold(told) => self.held(part, function, told, values),
            Body::Fold(fold) => self.fold(part, function, fold, values),
            Body::Count => Column { draws: Draws::Same(self.count(values)), reason: None },
            // The checker turns these into the value of a name.
            Body::LookBack(_) => Column::missing(self.not_finite(part)),
        }
    }

    fn each(
        &self,
        part: &Expression,
        function: &Function,
        law: fn(&Given<'_>) -> Result<f64, Refusal>,
        values: &[Option<Expression>],
    ) -> Column<f64> {
        let rows = Rows::new(self, function, values);
        let (draws, refused) = match rows.is_certain() {
            true => rows.apply(law),
            false => self.outcome(|| rows.inputs(None), || rows.apply(law)),
        };
        let refusal =
            refused.map(|refusal| Unknown::Refused(function.refuses(&refusal, kind_of(part))));
        self.finite(part, draws, rows.reason().or(refusal))
    }

    /// What a hold says, draw by draw.
    fn held(
        &self,
        part: &Expression,
        function: &Function,
        told: fn(&HoldDraw<'_>, &Given<'_>) -> Result<f64, Refusal>,
        values: &[Option<Expression>],
    ) -> Column<f64> {
        let Some(Some(readings)) = values.first() else {
            return Column::missing(self.not_finite(part));
        };
        let hold = match self.whole(readings) {
            Value::Readings(hold) => hold,
            other => return Column::missing(self.reason(readings, other)),
        };
        let rows = Rows::new(self, function, values);
        let (draws, refused) = self.outcome(
            || rows.inputs(Some(Arc::clone(&hold))),
            || rows.each(|row, given| told(&hold.draw(row), given)),
        );
        let refusal =
            refused.map(|refusal| Unknown::Refused(function.refuses(&refusal, kind_of(part))));
        self.finite(part, draws, rows.reason().or(refusal))
    }

    /// What comes of applying a function, worked out once for the same inputs where that is kept.
    fn outcome(&self, to: impl FnOnce() -> Inputs, apply: impl FnOnce() -> Outcome) -> Outcome {
        match self.facts.applied() {
            Some(applied) => applied.outcome(to(), apply),
            None => apply(),
        }
    }

    /// The smallest, largest, sum ... of several values or of one list.
    fn fold(
        &self,
        part: &Expression,
        function: &Function,
        fold: fn(&[f64]) -> f64,
        values: &[Option<Expression>],
    ) -> Column<f64> {
        let columns = match self.listed(values) {
            Some(Ok(list)) => list.iter().map(|value| self.column(part, value.clone())).collect(),
            Some(Err(reason)) => return Column::missing(reason),
            None => values.iter().flatten().map(|value| self.number(value)).collect::<Vec<_>>(),
        };
        let reason = first_reason(&columns);
        let parameter = &function.parameters[0];
        let mut refused = None;
        let mut row_values = vec![f64::NAN; columns.len()];
        let mut draw = |row: usize| {
            for (slot, column) in row_values.iter_mut().zip(&columns) {
                *slot = column.draws.at(row);
            }
            if row_values.iter().any(|x| x.is_missing()) {
                return f64::MISSING;
            }
            match row_values.iter().find_map(|&x| OutOfRange::of(parameter, x)) {
                None => fold(&row_values),
                Some(fault) => {
                    refused.get_or_insert(fault);
                    f64::MISSING
                }
            }
        };
        let is_certain = columns.iter().all(|column| matches!(column.draws, Draws::Same(_)));
        let draws = match is_certain {
            true => Draws::Same(draw(0)),
            false => Draws::Each((0..DRAWS).map(draw).collect()),
        };
        let refusal = refused.map(|fault| {
            Unknown::Refused(function.refuses(&Refusal::OutOfRange(fault), kind_of(part)))
        });
        self.finite(part, draws, reason.or(refusal))
    }

    /// The elements, if one list stands for all values; an empty list has no value.
    fn listed(&self, values: &[Option<Expression>]) -> Option<Result<Arc<[Value]>, Unknown>> {
        let [Some(list)] = values else { return None };
        let name = match list.form {
            Resolved::Recall(Use { symbol, .. }) => self.facts.name(symbol).to_owned(),
            _ => String::new(),
        };
        Some(match self.whole(list) {
            Value::List(list) if list.is_empty() => Err(Unknown::NotAnswered(name)),
            Value::List(list) => Ok(list),
            other => Err(self.reason(list, other)),
        })
    }

    fn count(&self, values: &[Option<Expression>]) -> f64 {
        let is_known = |value: &Value| !matches!(value, Value::Unknown(_));
        let known = match self.listed(values) {
            Some(Ok(list)) => list.iter().filter(|value| is_known(value)).count(),
            Some(Err(_)) => 0,
            None => values.iter().flatten().filter(|v| is_known(&self.value(v))).count(),
        };
        known as f64
    }
}

/// The kind of a part that is a number. What a function of several values gives is of their kind.
fn kind_of(part: &Expression) -> QuantityKind {
    match part.kind {
        Kind::Quantity(kind) => kind,
        _ => QuantityKind::NUMBER,
    }
}
