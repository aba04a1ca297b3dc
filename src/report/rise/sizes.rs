//! Values of a rise in the units of the trade, with the digits that they deserve.

use crate::quantity::{QuantityKind, UnitExpression, parse_unit, show_rounded};
use crate::rise::Range;

/// The share of a value down to which its digits are told (`estimate`: no gauge of the trade is
/// truer).
const DIGITS: f64 = 0.03;

/// The same of a single reading, whose digits are those of the gauge (`estimate`: it shows four).
const SHOWN: f64 = 5e-4;

/// A Julian year in s.
const SECONDS_A_YEAR: f64 = 31_557_600.0;

/// In which unit each of `micron`, `micron/min`, `degC` and `K` is shown to a person instead; where
/// none is named, in itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ShownIn(Vec<(String, UnitExpression)>);

impl ShownIn {
    /// Of pairs such as `micron` and Pa; what else they name plays no part here.
    #[must_use]
    pub fn new(instead: &[(String, UnitExpression)]) -> Self {
        Self(instead.to_vec())
    }

    pub(super) fn pressure(&self, si: f64) -> String {
        self.told(si, "micron", QuantityKind::PRESSURE, DIGITS)
    }

    /// A single reading, in four digits as a gauge shows it.
    pub(super) fn as_read(&self, si: f64) -> String {
        self.told(si, "micron", QuantityKind::PRESSURE, SHOWN)
    }

    pub(super) fn rise(&self, si: f64) -> String {
        self.told(si, "micron/min", QuantityKind::RISE_RATE, DIGITS)
    }

    pub(super) fn warming(&self, si: f64) -> String {
        self.told(si, "K", QuantityKind::TEMPERATURE_DIFFERENCE, DIGITS)
    }

    /// The unit of pressures.
    #[must_use]
    pub fn pressure_unit(&self) -> Option<UnitExpression> {
        self.unit("micron", QuantityKind::PRESSURE)
    }

    /// The unit of rises.
    #[must_use]
    pub fn rise_unit(&self) -> Option<UnitExpression> {
        self.unit("micron/min", QuantityKind::RISE_RATE)
    }

    /// The unit of temperatures.
    #[must_use]
    pub fn temperature_unit(&self) -> Option<UnitExpression> {
        self.unit("degC", QuantityKind::TEMPERATURE)
    }

    /// `K` alone is a temperature as well as a difference of two.
    fn unit(&self, symbol: &str, kind: QuantityKind) -> Option<UnitExpression> {
        let is_it = |(from, to): &&(String, UnitExpression)| {
            from == symbol
                && (to.kind == kind || parse_unit(symbol).is_ok_and(|unit| unit.kind == to.kind))
        };
        let named = self.0.iter().find(is_it).map(|(_, to)| to.clone());
        named.or_else(|| parse_unit(symbol).ok())
    }

    fn told(&self, si: f64, symbol: &str, kind: QuantityKind, share: f64) -> String {
        let unit = self.unit(symbol, kind);
        unit.map_or_else(String::new, |unit| in_unit(si, &unit, kind, share))
    }
}

pub(super) fn minutes(si: f64) -> String {
    told(si, "min", QuantityKind::TIME)
}

/// Whole seconds below two minutes, whole minutes from there on.
pub(super) fn lasting(si: f64) -> String {
    if si < 120.0 {
        told(si.round(), "s", QuantityKind::TIME)
    } else {
        minutes((si / 60.0).round() * 60.0)
    }
}

pub(super) fn throughput(si: f64) -> String {
    told(si, "Pa m3/s", QuantityKind::THROUGHPUT)
}

/// An absolute pressure.
pub(super) fn bar(si: f64) -> String {
    told(si, "bara", QuantityKind::PRESSURE)
}

/// A mass flow in kg/s: `23 g a year`, from a kilogram on in those.
pub(super) fn mass_a_year(si: f64) -> String {
    let mass = SECONDS_A_YEAR * si;
    let unit = if mass < 1.0 { "g" } else { "kg" };
    format!("{} a year", told(mass, unit, QuantityKind::MASS))
}

pub(super) fn micrometres(si: f64) -> String {
    told(si, "um", QuantityKind::LENGTH)
}

/// `20 micron/min (19 in 20: 18 micron/min to 22 micron/min)`
pub(super) fn with_range(range: Range, told: impl Fn(f64) -> String) -> String {
    format!("{} (19 in 20: {} to {})", told(range.value), told(range.low), told(range.high))
}

fn told(si: f64, symbol: &str, kind: QuantityKind) -> String {
    parse_unit(symbol).map_or_else(|_| String::new(), |unit| in_unit(si, &unit, kind, DIGITS))
}

/// With the digits down to a share of the value.
fn in_unit(si: f64, unit: &UnitExpression, kind: QuantityKind, share: f64) -> String {
    show_rounded(si, Some(share * si.abs()).filter(|&half| half > 0.0), unit, kind)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_told_in_units_of_the_trade() {
        let usual = ShownIn::default();
        assert_eq!(usual.pressure(66.66), "500 micron");
        let shown =
            [0.843, 84.0, 768.0, 8430.0].map(|shown| usual.as_read(shown * 0.133_322_387_415));
        assert_eq!(shown, ["0.843 micron", "84 micron", "768 micron", "8430 micron"]);
        assert_eq!(usual.rise(5.0 * 0.133_322 / 60.0), "5 micron/min");
        assert_eq!(usual.warming(2.0), "2 K");
        assert_eq!(minutes(1800.0), "30 min");
        assert_eq!(minutes(0.0), "0 min");
        assert_eq!([0.0, 25.6, 119.0, 640.0].map(lasting), ["0 s", "26 s", "119 s", "11 min"]);
        assert_eq!(throughput(2.666e-4), "0.000267 Pa m3/s");
        assert_eq!(micrometres(4.107e-6), "4.11 um");
        assert_eq!(mass_a_year(0.0234 / SECONDS_A_YEAR), "23.4 g a year");
        assert_eq!(mass_a_year(2.0 / SECONDS_A_YEAR), "2 kg a year");
    }

    #[test]
    fn other_units_are_shown_where_they_are_named() {
        let named =
            [("micron", "Pa"), ("micron/min", "Pa/min"), ("degC", "degF"), ("K", "degF_diff")];
        let pair = |(from, to): (&str, &str)| (from.to_owned(), parse_unit(to).unwrap().said());
        let shown = ShownIn::new(&named.map(pair));
        assert_eq!(shown.pressure(66.66), "66.7 Pa");
        assert_eq!(shown.as_read(66.66), "66.66 Pa");
        assert_eq!(shown.rise(0.5), "30 Pa/min");
        assert_eq!(shown.warming(5.0), "9 degF");
    }
}
