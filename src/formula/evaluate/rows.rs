//! What a function is given, draw by draw.

use std::sync::Arc;

use super::Evaluator;
use super::column::{Column, Draw};
use crate::formula::applied::Inputs;
use crate::formula::functions::{Function, Given, OutOfRange, Refusal};
use crate::formula::hold::HoldReadings;
use crate::formula::resolved::{Expression, Shape};
use crate::formula::{DRAWS, Draws, Unknown, stream};

/// The columns of a function's parameters.
pub(super) struct Rows<'a> {
    function: &'a Function,
    columns: Vec<Option<Column<f64>>>,
}

impl<'a> Rows<'a> {
    pub fn new(
        evaluator: &Evaluator<'_>,
        function: &'a Function,
        values: &[Option<Expression>],
    ) -> Self {
        // What is handed on whole has no column.
        let column =
            |value: &Expression| (value.shape != Shape::Whole).then(|| evaluator.number(value));
        let columns = values.iter().map(|value| value.as_ref().and_then(column)).collect();
        Self { function, columns }
    }

    /// What the function is applied to, with the hold that it reads.
    pub fn inputs(&self, hold: Option<Arc<HoldReadings>>) -> Inputs {
        let draws = |column: &Option<Column<f64>>| column.as_ref().map(|one| one.draws.clone());
        Inputs::new(self.function, hold, self.columns.iter().map(draws).collect())
    }

    /// Its streams of chance. A prefix of their own keeps them apart from those of literals and
    /// questions.
    fn streams(&self) -> Vec<Arc<[f64]>> {
        self.function.drawn.iter().map(|name| stream(&format!("law:{name}"))).collect()
    }

    /// Why a value that the function was given is missing in some draw.
    pub fn reason(&self) -> Option<Unknown> {
        self.columns.iter().flatten().find_map(|column| column.reason.clone())
    }

    /// A law applied to every draw in which nothing is missing or out of its range, and the first
    /// refusal.
    pub fn apply(
        &self,
        law: impl Fn(&Given<'_>) -> Result<f64, Refusal>,
    ) -> (Draws<f64>, Option<Refusal>) {
        let law = |_, given: &Given<'_>| law(given);
        if self.is_certain() {
            self.drawn(law, |draw| Draws::Same(draw(0)))
        } else {
            self.each(law)
        }
    }

    /// The same for a law that differs from draw to draw by itself.
    pub fn each(
        &self,
        law: impl Fn(usize, &Given<'_>) -> Result<f64, Refusal>,
    ) -> (Draws<f64>, Option<Refusal>) {
        self.drawn(law, |draw| Draws::Each((0..DRAWS).map(draw).collect()))
    }

    fn drawn(
        &self,
        law: impl Fn(usize, &Given<'_>) -> Result<f64, Refusal>,
        over: impl FnOnce(&mut dyn FnMut(usize) -> f64) -> Draws<f64>,
    ) -> (Draws<f64>, Option<Refusal>) {
        let mut refused = None;
        let mut values = vec![f64::NAN; self.columns.len()];
        let streams = self.streams();
        let mut chances = vec![f64::NAN; streams.len()];
        let draws = over(&mut |row: usize| {
            if self.columns.iter().flatten().any(|column| column.draws.at(row).is_missing()) {
                return f64::MISSING;
            }
            for (slot, column) in values.iter_mut().zip(&self.columns) {
                *slot = column.as_ref().map_or(f64::NAN, |column| column.draws.at(row));
            }
            for (slot, chance) in chances.iter_mut().zip(&streams) {
                *slot = chance[row];
            }
            self.within_ranges(&values)
                .and_then(|()| law(row, &Given::new(&values, &chances)))
                .unwrap_or_else(|refusal| {
                    refused.get_or_insert(refusal);
                    f64::MISSING
                })
        });
        (draws, refused)
    }

    /// Whether one draw stands for all.
    pub fn is_certain(&self) -> bool {
        let is_certain = |column: &Column<f64>| matches!(column.draws, Draws::Same(_));
        self.function.drawn.is_empty() && self.columns.iter().flatten().all(is_certain)
    }

    /// Whether every parameter lies in the range for which the function is known.
    fn within_ranges(&self, values: &[f64]) -> Result<(), Refusal> {
        for (parameter, &value) in self.function.parameters.iter().zip(values) {
            if !value.is_nan()
                && let Some(fault) = OutOfRange::of(parameter, value)
            {
                return Err(Refusal::OutOfRange(fault));
            }
        }
        Ok(())
    }
}
