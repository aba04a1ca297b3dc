//! What a function is given, draw by draw.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::Evaluator;
use super::column::{Column, Draw, has_none_missing};
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

    /// Its streams of chance.
    fn streams(&self) -> Vec<Arc<[f64]>> {
        self.function.drawn.iter().map(|name| law_stream(name)).collect()
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
        // A column that is certain stands in its slot from the start.
        let certain = |column: &Option<Column<f64>>| match column {
            Some(Column { draws: Draws::Same(value), .. }) => *value,
            _ => f64::NAN,
        };
        let mut values: Vec<f64> = self.columns.iter().map(certain).collect();
        let drawn: Vec<(usize, &[f64])> = self.drawn_columns().collect();
        let is_sound = self.is_sound();
        let streams = self.streams();
        let mut chances = vec![f64::NAN; streams.len()];
        let draws = over(&mut |row: usize| {
            if !is_sound && self.is_missing(row) {
                return f64::MISSING;
            }
            for (slot, column) in &drawn {
                values[*slot] = column[row];
            }
            for (slot, chance) in chances.iter_mut().zip(&streams) {
                *slot = chance[row];
            }
            let within = if is_sound { Ok(()) } else { self.within_ranges(&values) };
            within.and_then(|()| law(row, &Given::new(&values, &chances))).unwrap_or_else(
                |refusal| {
                    refused.get_or_insert(refusal);
                    f64::MISSING
                },
            )
        });
        (draws, refused)
    }

    /// The columns that differ from draw to draw, each with the place of its parameter.
    fn drawn_columns(&self) -> impl Iterator<Item = (usize, &[f64])> {
        self.columns.iter().enumerate().filter_map(|(place, column)| match column {
            Some(Column { draws: Draws::Each(values), .. }) => Some((place, &**values)),
            _ => None,
        })
    }

    /// Whether nothing that the function is given is missing or out of its range in any draw. Nearly
    /// always so, and told of whole columns far quicker than row by row.
    fn is_sound(&self) -> bool {
        self.function.parameters.iter().zip(&self.columns).all(|(parameter, column)| {
            let Some(column) = column else { return true };
            has_none_missing(&column.draws)
                && parameter.range.is_none_or(|range| {
                    let (low, high) = OutOfRange::ends(range);
                    let values = column.draws.values().iter();
                    values.fold(true, |all, value| all & (low <= *value) & (*value <= high))
                })
        })
    }

    fn is_missing(&self, row: usize) -> bool {
        self.columns.iter().flatten().any(|column| column.draws.at(row).is_missing())
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

/// The stream of chance that a law draws from, made once: the laws are few. A prefix of its own keeps
/// it apart from those of literals and questions.
fn law_stream(name: &'static str) -> Arc<[f64]> {
    static MADE: Mutex<BTreeMap<&str, Arc<[f64]>>> = Mutex::new(BTreeMap::new());
    let mut made = MADE.lock().unwrap_or_else(PoisonError::into_inner);
    Arc::clone(made.entry(name).or_insert_with(|| stream(&format!("law:{name}"))))
}
