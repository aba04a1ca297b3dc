//! Reading the settings of an entry: quantities, ranges, times and units.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::formula::Kind;
use crate::quantity::{
    Dimension, Misread, NAMED_KINDS, Nature, QuantityKind, UnitError, UnitExpression,
    parse_quantity, parse_range, parse_unit,
};
use crate::source::Span;

impl Resolver<'_> {
    /// A setting such as `5 min`, in SI units.
    pub(super) fn quantity(&mut self, text: &Scalar, kind: QuantityKind) -> Option<f64> {
        let wanted = Kind::Quantity(kind).with_article();
        self.taken(parse_quantity(&text.text, kind), text, kind, &wanted)
    }

    /// A setting that can't be below zero, in SI units.
    fn magnitude(&mut self, text: &Scalar, kind: QuantityKind) -> Option<f64> {
        let value = self.quantity(text, kind)?;
        if value >= 0.0 {
            return Some(value);
        }
        let title = format!("`{}` is less than nothing", text.text.trim());
        let fault = Diagnostic::at(Code::OutOfRange, title, text.span, "0 or more belongs here");
        self.faults.push(fault);
        None
    }

    /// How much a reading scatters, in SI units.
    pub(super) fn scatter(&mut self, text: &Scalar, kind: QuantityKind) -> Option<f64> {
        let width = match kind.dimension {
            Dimension::PRESSURE => QuantityKind::PRESSURE_DIFFERENCE,
            Dimension::TEMPERATURE => QuantityKind::TEMPERATURE_DIFFERENCE,
            _ => kind,
        };
        self.magnitude(text, width)
    }

    /// A time, in seconds.
    pub(super) fn time(&mut self, text: Option<&Scalar>) -> Option<f64> {
        self.magnitude(text?, QuantityKind::TIME)
    }

    /// A range such as `20 micron to 2000 micron`, in SI units.
    pub(super) fn range(&mut self, text: &Scalar, kind: QuantityKind) -> Option<(f64, f64)> {
        let read = parse_range(&text.text, kind);
        if read.is_err() && runs_downward(&text.text, kind) {
            let title = format!("the range `{}` runs downward", text.text.trim());
            let label = "the lower end comes first";
            self.faults.push(Diagnostic::at(Code::OutOfRange, title, text.span, label));
            return None;
        }
        if let (Ok((low, _)), Nature::Absolute) = (&read, kind.nature)
            && *low < 0.0
        {
            let title = format!("the range `{}` reaches below zero", text.text.trim());
            let label =
                format!("{} is never less than nothing", Kind::Quantity(kind).with_article());
            self.faults.push(Diagnostic::at(Code::OutOfRange, title, text.span, label));
            return None;
        }
        let wanted = format!("a range for {}", Kind::Quantity(kind).with_article());
        self.taken(read, text, kind, &wanted)
    }

    /// What was read, or a fault at the part of the setting that is wrong.
    fn taken<T>(
        &mut self,
        read: Result<T, Misread>,
        text: &Scalar,
        kind: QuantityKind,
        wanted: &str,
    ) -> Option<T> {
        match read {
            Ok(value) => Some(value),
            Err(misread) => {
                let title = format!("`{}` is not {wanted}", text.text.trim());
                let label = misread.to_string().replace("; type ", "; write ");
                let label = label.replace("5 micron to 50 micron", &example(kind));
                let place = wrong_part(&misread, text);
                let fault = Diagnostic::at(code(&misread), title, place, label);
                self.faults.push(fault.maybe_help(unit_left_out(&misread, kind)));
                None
            }
        }
    }

    /// A unit that must measure a kind.
    pub(super) fn unit(&mut self, text: &Scalar, kind: QuantityKind) -> Option<UnitExpression> {
        let fault = match parse_unit(text.text.trim()) {
            Ok(unit) if unit.kind.fits(kind) => return Some(unit),
            Ok(unit) => {
                let title = format!(
                    "`{}` is a unit of {}, and {} is wanted",
                    text.text.trim(),
                    unit.kind.name(),
                    Kind::Quantity(kind).with_article(),
                );
                Diagnostic::at(Code::WrongUnit, title, text.span, "a unit of another kind")
            }
            Err(UnitError::Unknown { word, near }) => {
                let title = format!("`{word}` is not a unit");
                let place = part_of(text, &word);
                Diagnostic::at(Code::UnknownUnit, title, place, "no unit is called so")
                    .help(near.map_or_else(|| other_unit(kind), |n| format!("did you mean `{n}`?")))
            }
            Err(other) => {
                let title = format!("`{}` is not a unit", text.text.trim());
                Diagnostic::at(Code::UnknownUnit, title, text.span, other.to_string())
            }
        };
        self.faults.push(fault);
        None
    }

    /// Says at each wrong unit since the fault number `from` where its kind was set.
    pub(super) fn asked_at(&mut self, from: usize, kind: &Kind, place: Option<Span>) {
        self.explain(from, place, &format!("{} is asked for here", kind.with_article()));
    }

    /// Says at each wrong unit since the fault number `from` what gives its kind.
    pub(super) fn given_at(&mut self, from: usize, kind: &Kind, place: Option<Span>) {
        self.explain(from, place, &format!("this gives {}", kind.with_article()));
    }

    fn explain(&mut self, from: usize, place: Option<Span>, label: &str) {
        let Some(place) = place else { return };
        for fault in self.faults.iter_mut().skip(from) {
            if fault.code == Code::WrongUnit {
                *fault = fault.clone().and_at(place, label);
            }
        }
    }
}

/// Whether a range is one but for the order of its ends.
fn runs_downward(text: &str, kind: QuantityKind) -> bool {
    let Some((high, low)) = text.split_once(" to ") else { return false };
    parse_range(&format!("{low} to {high}"), kind).is_ok()
}

/// A range of a kind, as it is written.
fn example(kind: QuantityKind) -> String {
    match usual_unit(kind) {
        Some(unit) => format!("5 {unit} to 50 {unit}"),
        None => "5 to 50".to_owned(),
    }
}

/// The unit that a kind is usually given in; none for a bare number.
fn usual_unit(kind: QuantityKind) -> Option<&'static str> {
    let named = NAMED_KINDS.iter().find(|named| named.kind == kind)?;
    (named.unit != "1" && named.unit != "%").then_some(named.unit)
}

/// The mend of a number whose unit is missing.
fn unit_left_out(misread: &Misread, kind: QuantityKind) -> Option<String> {
    let (Misread::MissingUnit { number, .. }, Some(unit)) = (misread, usual_unit(kind)) else {
        return None;
    };
    Some(format!("write `{number} {unit}`, or the unit that is meant"))
}

/// What to write for a unit that is none.
fn other_unit(kind: QuantityKind) -> String {
    let count = "leave `unit` out if things are counted (`kind: number`)";
    match usual_unit(kind) {
        Some(unit) => format!("write a unit of {}, such as `{unit}`; {count}", kind.name()),
        None => count.to_owned(),
    }
}

fn code(misread: &Misread) -> Code {
    match misread {
        Misread::WrongKind { .. }
        | Misread::NoTime { .. }
        | Misread::CountsFromAir { .. }
        | Misread::NotGauge { .. }
        | Misread::TooCoarse { .. } => Code::WrongUnit,
        Misread::Unit { .. } => Code::UnknownUnit,
        Misread::BelowZero { .. } | Misread::OutOfRange { .. } => Code::OutOfRange,
        Misread::Empty { .. }
        | Misread::NotUnderstood { .. }
        | Misread::ADifference { .. }
        | Misread::DecimalComma { .. }
        | Misread::PromptOnly { .. }
        | Misread::BlankInNumber { .. }
        | Misread::NotFinite { .. }
        | Misread::MissingUnit { .. }
        | Misread::BadDoubt { .. }
        | Misread::DoubtAlone { .. }
        | Misread::SeveralNumbers { .. }
        | Misread::NotARange { .. } => Code::BadNumber,
    }
}

/// The part of a setting that is wrong, or all of it.
fn wrong_part(misread: &Misread, text: &Scalar) -> Span {
    let part = match misread {
        Misread::WrongKind { unit, .. }
        | Misread::CountsFromAir { unit, .. }
        | Misread::NotGauge { unit, .. }
        | Misread::TooCoarse { unit, .. }
        | Misread::Unit { error: UnitError::Unknown { word: unit, .. }, .. } => unit,
        Misread::DecimalComma { number, .. }
        | Misread::PromptOnly { number, .. }
        | Misread::BlankInNumber { number, .. }
        | Misread::NotFinite { number }
        | Misread::MissingUnit { number, .. } => number,
        _ => return text.span,
    };
    part_of(text, part)
}

/// Where a part of a text stands, or all of the text if it is not found.
fn part_of(text: &Scalar, part: &str) -> Span {
    let found = text.text.find(part).filter(|_| !part.is_empty());
    found.map_or(text.span, |at| text.span_of(at..at + part.len()))
}
