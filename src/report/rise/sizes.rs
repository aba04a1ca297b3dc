//! Values of a rise in the units of the trade, with the digits that they deserve.

use crate::quantity::{QuantityKind, parse_unit, show_rounded};
use crate::rise::Range;

/// The share of a value down to which its digits are told (`estimate`: no gauge of the trade is
/// truer).
const DIGITS: f64 = 0.03;

/// The same of a single reading, whose digits are those of the gauge (`estimate`: it shows four).
const SHOWN: f64 = 5e-4;

/// A Julian year in s.
const SECONDS_A_YEAR: f64 = 31_557_600.0;

pub(super) fn micron(si: f64) -> String {
    told(si, "micron", QuantityKind::PRESSURE)
}

/// A single reading, in four digits as a gauge shows it.
pub(super) fn micron_as_read(si: f64) -> String {
    let half = Some(SHOWN * si.abs()).filter(|&half| half > 0.0);
    parse_unit("micron").map_or_else(
        |_| String::new(),
        |unit| show_rounded(si, half, &unit, QuantityKind::PRESSURE),
    )
}

pub(super) fn micron_per_minute(si: f64) -> String {
    told(si, "micron/min", QuantityKind::RISE_RATE)
}

pub(super) fn minutes(si: f64) -> String {
    told(si, "min", QuantityKind::TIME)
}

pub(super) fn kelvin(si: f64) -> String {
    told(si, "K", QuantityKind::TEMPERATURE_DIFFERENCE)
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
pub(super) fn with_range(range: Range, told: fn(f64) -> String) -> String {
    format!("{} (19 in 20: {} to {})", told(range.value), told(range.low), told(range.high))
}

fn told(si: f64, symbol: &str, kind: QuantityKind) -> String {
    match parse_unit(symbol) {
        Ok(unit) => {
            show_rounded(si, Some(DIGITS * si.abs()).filter(|&half| half > 0.0), &unit, kind)
        }
        Err(_) => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_told_in_units_of_the_trade() {
        assert_eq!(micron(66.66), "500 micron");
        let shown =
            [0.843, 84.0, 768.0, 8430.0].map(|shown| micron_as_read(shown * 0.133_322_387_415));
        assert_eq!(shown, ["0.843 micron", "84 micron", "768 micron", "8430 micron"]);
        assert_eq!(micron_per_minute(5.0 * 0.133_322 / 60.0), "5 micron/min");
        assert_eq!(minutes(1800.0), "30 min");
        assert_eq!(minutes(0.0), "0 min");
        assert_eq!([0.0, 25.6, 119.0, 640.0].map(lasting), ["0 s", "26 s", "119 s", "11 min"]);
        assert_eq!(throughput(2.666e-4), "0.000267 Pa m3/s");
        assert_eq!(micrometres(4.107e-6), "4.11 um");
        assert_eq!(mass_a_year(0.0234 / SECONDS_A_YEAR), "23.4 g a year");
        assert_eq!(mass_a_year(2.0 / SECONDS_A_YEAR), "2 kg a year");
    }
}
