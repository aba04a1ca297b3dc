//! Functions applied draw by draw.

use super::Evaluator;
use super::column::{Column, Draw, first_reason};
use crate::formula::functions::{Body, Function, Given, OutOfRange};
use crate::formula::resolved::{Expression, Resolved, Use};
use crate::formula::{DRAWS, Draws, Unknown, Value};

impl Evaluator<'_> {
    pub(super) fn apply(
        &self,
        part: &Expression,
        function: &Function,
        values: &[Option<Expression>],
    ) -> Column<f64> {
        match function.body {
            Body::Each(law) => self.each(part, function, law, values),
            Body::Fold(fold) => self.fold(part, fold, values),
            Body::Count => Column { draws: Draws::Same(self.count(values)), reason: None },
            // The checker turns these into the value of a name.
            Body::LookBack(_) => Column::missing(self.not_finite(part)),
        }
    }

    fn each(
        &self,
        part: &Expression,
        function: &Function,
        law: fn(&Given<'_>) -> Result<f64, OutOfRange>,
        values: &[Option<Expression>],
    ) -> Column<f64> {
        let columns: Vec<Option<Column<f64>>> =
            values.iter().map(|value| value.as_ref().map(|value| self.number(value))).collect();
        let given: Vec<&Column<f64>> = columns.iter().flatten().collect();
        let reason = given.iter().find_map(|column| column.reason.clone());
        let mut refused = None;
        let mut row_values = vec![f64::NAN; columns.len()];
        let mut draw = |row: usize| {
            for (slot, column) in row_values.iter_mut().zip(&columns) {
                *slot = column.as_ref().map_or(f64::NAN, |column| column.draws.at(row));
            }
            if given.iter().any(|column| column.draws.at(row).is_missing()) {
                return f64::MISSING;
            }
            within_ranges(function, &row_values)
                .and_then(|()| law(&Given::new(&row_values)))
                .unwrap_or_else(|fault| {
                    refused.get_or_insert(fault);
                    f64::MISSING
                })
        };
        let is_certain = given.iter().all(|column| matches!(column.draws, Draws::Same(_)));
        let draws = match is_certain {
            true => Draws::Same(draw(0)),
            false => Draws::Each((0..DRAWS).map(draw).collect()),
        };
        let refusal = refused.map(|fault| Unknown::OutOfRange(function.out_of_range(&fault)));
        self.finite(part, draws, reason.or(refusal))
    }

    /// The smallest, largest, sum ... of several values or of one list.
    fn fold(
        &self,
        part: &Expression,
        fold: fn(&[f64]) -> f64,
        values: &[Option<Expression>],
    ) -> Column<f64> {
        let columns = match self.listed(values) {
            Some(Ok(list)) => list.iter().map(|value| self.column(part, value.clone())).collect(),
            Some(Err(reason)) => return Column::missing(reason),
            None => values.iter().flatten().map(|value| self.number(value)).collect::<Vec<_>>(),
        };
        let reason = first_reason(&columns);
        let mut row_values = vec![f64::NAN; columns.len()];
        let mut draw = |row: usize| {
            for (slot, column) in row_values.iter_mut().zip(&columns) {
                *slot = column.draws.at(row);
            }
            if row_values.iter().any(|x| x.is_missing()) { f64::MISSING } else { fold(&row_values) }
        };
        let is_certain = columns.iter().all(|column| matches!(column.draws, Draws::Same(_)));
        let draws = match is_certain {
            true => Draws::Same(draw(0)),
            false => Draws::Each((0..DRAWS).map(draw).collect()),
        };
        self.finite(part, draws, reason)
    }

    /// The elements, if one list stands for all values; an empty list has no value.
    fn listed(
        &self,
        values: &[Option<Expression>],
    ) -> Option<Result<std::sync::Arc<[Value]>, Unknown>> {
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

/// Whether every parameter lies in the range for which the function is known.
fn within_ranges(function: &Function, values: &[f64]) -> Result<(), OutOfRange> {
    for (parameter, &value) in function.parameters.iter().zip(values) {
        if let Some((low, high)) = parameter.range
            && !value.is_nan()
            && !(low..=high).contains(&value)
        {
            return Err(OutOfRange { parameter: parameter.name, value, low, high });
        }
    }
    Ok(())
}
