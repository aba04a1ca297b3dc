//! Instruments.

use super::Resolver;
use super::formula::holds_a_number;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::RawInstrument;
use crate::formula::{Checked, Kind};
use crate::handbook::model::Instrument;
use crate::quantity::{Dimension, Nature, QuantityKind};
use crate::source::Span;

/// A question that an instrument reads: its name, its kind, and where it names the instrument.
pub(super) type Reading<'a> = (&'a str, QuantityKind, Span);

impl<'a> Resolver<'a> {
    pub(super) fn instruments(&mut self) {
        for raw in &self.raw.instruments {
            let read = self.read_by(raw);
            let instrument = Instrument {
                id: raw.id.value.clone(),
                name: raw.name.as_ref().map(|name| name.text.clone()).unwrap_or_default(),
                face: self.face(raw, &read),
                scale: self.scale(raw),
                offset: self.width(raw, "offset", raw.offset.as_ref(), &read),
                resolution: self.width(raw, "resolution", raw.resolution.as_ref(), &read),
                gas_response: raw.gas_response.as_ref().map(|text| text.text.clone()),
                basis: self.instrument_basis(raw),
            };
            self.parts.instruments.push(instrument);
        }
    }

    fn instrument_basis(&mut self, raw: &RawInstrument) -> crate::handbook::model::Basis {
        let holds = |text: &Option<Scalar>| text.as_ref().is_some_and(holds_a_number);
        let numbers = [
            ("scale", holds(&raw.scale)),
            ("offset", holds(&raw.offset)),
            ("resolution", holds(&raw.resolution)),
            ("gas_response", holds(&raw.gas_response)),
        ];
        self.basis("instrument", &raw.id, raw.basis.as_ref(), &numbers)
    }

    fn read_by(&self, raw: &RawInstrument) -> Vec<Reading<'a>> {
        let mut read = Vec::new();
        for question in &self.raw.questions {
            let Some(name) = question.instrument.as_ref() else { continue };
            let known = self.names.get(&question.id.value).and_then(|known| known.kind.as_ref());
            if let Some(Kind::Quantity(kind) | Kind::Readings(kind)) = known
                && name.value == raw.id.value
            {
                read.push((question.id.value.as_str(), *kind, name.span));
            }
        }
        read
    }

    /// The share of a reading by which the whole scale may be wrong.
    fn scale(&mut self, raw: &RawInstrument) -> Option<Checked> {
        let origin = format!("instrument {} scale", raw.id.value);
        self.formula_as(&origin, raw.scale.as_ref()?, &Kind::Quantity(QuantityKind::NUMBER))
    }

    /// A width in the unit of the readings.
    fn width(
        &mut self,
        raw: &RawInstrument,
        key: &str,
        text: Option<&Scalar>,
        read: &[Reading<'_>],
    ) -> Option<Checked> {
        let text = text?;
        let width = self.formula(&format!("instrument {} {key}", raw.id.value), text)?;
        let misfit = match width.kind() {
            Kind::Quantity(kind) => read.iter().find(|(_, read, _)| !is_width_of(*kind, *read)),
            _ => read.first(),
        };
        if let Some((question, read, place)) = misfit {
            self.misfit(raw, key, text, width.kind(), (question, *read, *place));
        }
        Some(width)
    }

    fn misfit(
        &mut self,
        raw: &RawInstrument,
        key: &str,
        text: &Scalar,
        found: &Kind,
        (question, read, place): Reading<'_>,
    ) {
        let (is_alike, found) = (is_alike(found, read), found.with_article());
        let read = Kind::Quantity(read).with_article();
        let wanted = if is_alike {
            "and not a difference".to_owned()
        } else {
            format!("and it reads {read}")
        };
        let title = format!("`{key}` of instrument `{}` is {found}, {wanted}", raw.id.value);
        let fault = Diagnostic::at(Code::WrongKind, title, text.span, found)
            .and_at(place, format!("`{question}` is {read}"));
        self.faults.push(if is_alike {
            fault.note("how far a reading may be off is a difference of two such readings")
        } else {
            fault
        });
    }
}

/// Whether both measure the same, of whatever nature.
fn is_alike(found: &Kind, read: QuantityKind) -> bool {
    matches!(found, Kind::Quantity(kind) if kind.dimension == read.dimension)
}

/// Whether a quantity can say how far a reading may be off: a difference of readings, or what
/// may be one. An absolute pressure is as wide as it is high, but 5 degC is not 5 K.
fn is_width_of(width: QuantityKind, reading: QuantityKind) -> bool {
    let is_width = match width.nature {
        Nature::Plain | Nature::Open | Nature::Difference => true,
        Nature::Absolute => width.dimension == Dimension::PRESSURE,
        Nature::Gauge => false,
    };
    is_width && width.dimension == reading.dimension
}
