//! What a law of physics is handed draw by draw, and what it answers instead of a number.

use super::Parameter;
use crate::quantity::QuantityKind;

/// Share by which a value may pass an end of its range: room for converted ends.
const ROUNDING: f64 = 1e-12;

/// The values of a function's parameters in one draw, in SI units.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    values: &'a [f64],
    drawn: &'a [f64],
}

impl<'a> Given<'a> {
    /// Values in the order of the parameters; not a number where an optional one is left out.
    /// `drawn` has a number for each of the function's streams.
    #[must_use]
    pub fn new(values: &'a [f64], drawn: &'a [f64]) -> Self {
        Self { values, drawn }
    }

    /// The value of a parameter that is required or has a default; not a number beyond the
    /// last parameter.
    #[must_use]
    pub fn at(&self, parameter: usize) -> f64 {
        self.values.get(parameter).copied().unwrap_or(f64::NAN)
    }

    /// The value of an optional parameter, if it was given.
    #[must_use]
    pub fn optional(&self, parameter: usize) -> Option<f64> {
        Some(self.at(parameter)).filter(|value| !value.is_nan())
    }

    /// The place of the word that was given for a parameter of words.
    #[must_use]
    pub fn word(&self, parameter: usize) -> usize {
        // Words are given as their places, small whole numbers.
        self.at(parameter) as usize
    }

    /// This draw's number in (0, 1) from a stream of the function's `drawn`; the same in every
    /// function that draws from that stream. Not a number beyond the last stream.
    #[must_use]
    pub fn drawn(&self, which: usize) -> f64 {
        self.drawn.get(which).copied().unwrap_or(f64::NAN)
    }
}

/// Why a function gives nothing. Makes the formula unknown, with this as its reason.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// A value lies beyond the range in which the function is known.
    OutOfRange(OutOfRange),
    /// Values that don't go together, in a sentence that says both sides: "the floor, 30 micron,
    /// lies above the target, 20 micron".
    Impossible(String),
}

/// A value beyond the range in which a function is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// The parameter.
    pub parameter: &'static str,
    /// What was given, in SI units.
    pub value: f64,
    /// The lowest value that the function is known for, in SI units.
    pub low: f64,
    /// The highest value that the function is known for, in SI units.
    pub high: f64,
}

impl OutOfRange {
    /// The fault of a value in SI units, if it lies beyond the parameter's range.
    #[must_use]
    pub fn of(parameter: &Parameter, value: f64) -> Option<Self> {
        let (low, high) = parameter.range?;
        let (least, most) = Self::ends((low, high));
        let is_within = value >= least && value <= most;
        (!is_within).then_some(Self { parameter: parameter.name, value, low, high })
    }

    /// The ends of a range as they are kept to: ends that were converted from another unit may
    /// miss by a rounding.
    pub(in crate::formula) fn ends((low, high): (f64, f64)) -> (f64, f64) {
        (low - ROUNDING * low.abs(), high + ROUNDING * high.abs())
    }
}

/// Where a system stops that never gets to where it was asked for.
#[derive(Clone, Copy, Debug)]
pub struct Never {
    /// What is said before the place: "it stops at".
    pub says: &'static str,
    /// The kind of the place.
    pub kind: QuantityKind,
    /// The place in SI units, draw by draw, from what the function was given.
    pub law: fn(&Given<'_>) -> f64,
}
