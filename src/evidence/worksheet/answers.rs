//! What an answer stands for: its value over the draws.

use std::sync::Arc;

use super::Worksheet;
use crate::evidence::doubt::{InstrumentError, Reading, true_values};
use crate::evidence::record::{Given, Reach, Reply};
use crate::formula::{
    Checked, Draws, Facts, HoldGauge, HoldReadings, Kind, Truth, Unknown, Value, evaluate,
    is_even_row,
};
use crate::handbook::{Hazard, Instrument, InstrumentId, Question, QuestionId};
use crate::quantity::Nature;

impl Worksheet<'_> {
    pub(super) fn question_value(&self, id: QuestionId) -> Value {
        let question = self.handbook.question(id);
        if self.view.is_at_a_step && self.says_nothing(id) {
            return Value::Unknown(Unknown::NotSure(question.id.clone()));
        }
        let latest = self.seen(id).into_iter().rev().find(|(_, g)| g.reply != Reply::Skipped);
        if let Some((number, given)) = latest {
            return self.held_value(question, number, given);
        }
        if self.view.assumes_settings
            && let Some((low, high)) = question.not_sure
        {
            return Value::Quantity(self.streams.between(&not_sure_stream(question), low, high));
        }
        Value::Unknown(if self.latest_seen(id).is_none() {
            Unknown::NotAnswered(question.id.clone())
        } else {
            Unknown::NotSure(question.id.clone())
        })
    }

    pub(super) fn answer_value(&self, question: &Question, number: usize, given: &Given) -> Value {
        match &given.reply {
            Reply::Quantity { si, half_width, reach } => {
                Value::Quantity(self.reading(question, number, (*si, *half_width, *reach)))
            }
            Reply::YesNo(yes) => Value::Truth(Draws::Same(truth(*yes))),
            Reply::Choice(id) => choice_value(question, id),
            Reply::Choices(ids) => {
                Value::Choices(question.choices.iter().map(|c| ids.contains(&c.id)).collect())
            }
            Reply::Text(text) => Value::Text(text.as_str().into()),
            Reply::Date(date) => Value::Date(date.as_str().into()),
            Reply::Readings { times, pressures, resolution } => {
                Value::Readings(self.hold(question, number, (times, pressures, *resolution)))
            }
            Reply::NotSure | Reply::Skipped => self.not_sure_value(question),
        }
    }

    fn not_sure_value(&self, question: &Question) -> Value {
        match (question.not_sure, question.hazard) {
            (Some((low, high)), _) => {
                Value::Quantity(self.streams.between(&not_sure_stream(question), low, high))
            }
            (None, Some(Hazard::YesNo(yes))) => Value::Truth(Draws::Same(truth(yes))),
            (None, Some(Hazard::Choice(choice))) => Value::Choice(Draws::Same(choice)),
            (None, None) => Value::Unknown(Unknown::NotSure(question.id.clone())),
        }
    }

    fn reading(
        &self,
        question: &Question,
        number: usize,
        (shown, half_width, reach): (f64, Option<f64>, Reach),
    ) -> Draws<f64> {
        let is_absolute_pressure = matches!(
            question.kind,
            Kind::Quantity(kind) if kind.nature == Nature::Absolute
        );
        let reading = Reading {
            name: &format!("answer:{}:{number}", question.id),
            shown,
            reach,
            repeats: half_width.or(question.repeats).unwrap_or(0.0),
            range: question.range,
            is_positive: is_absolute_pressure,
        };
        let instrument = question.instrument.map(|id| self.instrument_error(id));
        true_values(&reading, instrument.as_ref(), self.streams)
    }

    /// The readings of a hold as its gauge's other readings see it; made once for all worksheets.
    fn hold(
        &self,
        question: &Question,
        number: usize,
        (times, pressures, shown): (&[f64], &[f64], Option<f64>),
    ) -> Arc<HoldReadings> {
        let error = question.instrument.map(|id| self.instrument_error(id));
        let (scale, offset, resolution) = match error {
            Some(error) => (error.scale, error.offset, error.resolution),
            None => (Draws::Same(0.0), Draws::Same(0.0), 0.0),
        };
        // A display may be finer than somebody said, and a caller may round more than it does.
        let resolution = match shown {
            Some(step) if resolution > 0.0 && is_even_row(times, pressures) => step.min(resolution),
            shown => shown.unwrap_or(resolution),
        };
        let gauge = HoldGauge { scale, offset, resolution, repeats: question.repeats };
        let name = format!("answer:{}:{number}", question.id);
        self.streams.hold(HoldReadings::new(name, times.to_vec(), pressures.to_vec(), gauge))
    }

    /// An instrument's own error: one draw of it for all its readings. A tolerance that nobody
    /// gave counts as "not sure" of it.
    fn instrument_error(&self, id: InstrumentId) -> InstrumentError {
        let instrument = self.handbook.instrument(id);
        let assuming = self.narrowed(self.view.until, None, true);
        let half_width =
            |formula: &Option<Checked>| match formula.as_ref().map(|f| evaluate(f, &assuming)) {
                Some(Value::Quantity(draws)) => draws,
                _ => Draws::Same(0.0),
            };
        let named = |part: &str| format!("instrument:{}:{part}", instrument.id);
        InstrumentError {
            scale: self.streams.around_zero(&named("scale"), &half_width(&instrument.scale)),
            offset: self.streams.around_zero(&named("offset"), &half_width(&instrument.offset)),
            resolution: assuming.resolution(id).unwrap_or(0.0),
        }
    }

    /// The step between two readings that an instrument can show, in SI units: that of its face,
    /// where the face is known and has one, and else its own. None if neither is known.
    #[must_use]
    pub fn resolution(&self, id: InstrumentId) -> Option<f64> {
        let instrument = self.handbook.instrument(id);
        self.resolution_of_face(instrument).or_else(|| {
            match evaluate(instrument.resolution.as_ref()?, self) {
                Value::Quantity(draws) => Some(middle(&draws)),
                _ => None,
            }
        })
    }

    fn resolution_of_face(&self, instrument: &Instrument) -> Option<f64> {
        let face = self.handbook.question(instrument.face?);
        let Value::Choice(shown) = self.latest(face.symbol) else { return None };
        *face.resolutions.get(usize::from(shown.at(0)))?
    }
}

fn not_sure_stream(question: &Question) -> String {
    format!("answer:{}:not_sure", question.id)
}

fn truth(yes: bool) -> Truth {
    if yes { Truth::Yes } else { Truth::No }
}

fn choice_value(question: &Question, id: &str) -> Value {
    question.choices.iter().position(|choice| choice.id == id).map_or_else(
        || Value::Unknown(Unknown::NotSure(question.id.clone())),
        |place| Value::Choice(Draws::Same(place as u16)),
    )
}

/// The mean of a column; exact for a certain one.
fn middle(draws: &Draws<f64>) -> f64 {
    let values = draws.values();
    values.iter().sum::<f64>() / values.len() as f64
}
