//! Values that are possible but unusual, and the slip that most likely made them.

use super::digits::to_significant;
use super::expected::with_unit;
use super::{
    Bound, Dimension, Expected, Nature, QuantityKind, Typed, UnitExpression, parse_unit, show,
};

/// The lowest pressure, in Pa, that a service vacuum gauge shows: 1 micron (`common_practice`).
const GAUGE_FLOOR: f64 = 0.133_322_387_415;
/// Share by which a value may pass an end of what is usual: room for converted ends.
const ROUNDING: f64 = 1e-9;

/// A value that deserves a second look, and what may have been meant.
#[derive(Clone, Debug, PartialEq)]
pub struct Slip {
    /// What is odd about it, and the number read in another unit if that would be usual.
    pub message: String,
    /// What may have been meant, as it would be typed here, and in SI units.
    pub suggestion: Option<(String, f64)>,
}

/// The likely slip behind a value outside what is usual; none if it is usual or nothing is known
/// of what is. `over` and `under` may point out of the usual: an end of a scale often does.
///
/// The suggestion is the same number in the first other unit, of those that people mix up, in
/// which it is usual.
///
/// ```
/// use dryhold::quantity::{Expected, QuantityKind, likely_slip, parse_range, parse_unit, read_typed};
/// let mut expected = Expected::new(QuantityKind::PRESSURE, parse_unit("micron").unwrap());
/// expected.usual = Some(parse_range("5 micron to 5000 micron", expected.kind).unwrap());
/// let typed = read_typed("0.5", &expected).unwrap();
/// let slip = likely_slip(&typed, &expected).unwrap();
/// assert_eq!(
///     slip.message,
///     "0.5 micron is lower than a service gauge shows: 0.5 mmHg is 500 micron"
/// );
/// assert_eq!(slip.suggestion.unwrap().0, "500 micron");
/// ```
#[must_use]
pub fn likely_slip(typed: &Typed, expected: &Expected) -> Option<Slip> {
    let (low, high) = expected.usual?;
    let is_low = typed.value < low - low.abs() * ROUNDING;
    let is_high = typed.value > high + high.abs() * ROUNDING;
    let points_outward =
        typed.bound == Bound::Over && is_high || typed.bound == Bound::Under && is_low;
    if !(is_low || is_high) || points_outward {
        return None;
    }
    let number = typed.unit.from_si(typed.value);
    let digits = to_significant(number, 6);
    let value = with_unit(&digits, &typed.unit.symbol);
    let mut message = oddness(&value, typed.value, is_low, expected, (low, high));
    let meant = meant_unit(number, typed, expected.kind, (low, high));
    let suggestion = meant.map(|unit| {
        let si = unit.to_si(number);
        let text = show(si, None, &expected.unit, expected.kind);
        let other = with_unit(&digits, &unit.symbol);
        if unit.symbol == expected.unit.symbol {
            message.push_str(&format!("; did you mean {other}?"));
        } else {
            message.push_str(&format!(": {other} is {text}"));
        }
        (text, si)
    });
    Some(Slip { message, suggestion })
}

fn oddness(
    value: &str,
    si: f64,
    is_low: bool,
    expected: &Expected,
    (low, high): (f64, f64),
) -> String {
    if is_low && expected.is_deep_vacuum() && si < GAUGE_FLOOR {
        return format!("{value} is lower than a service gauge shows");
    }
    let end = |si| to_significant(expected.unit.from_si(si), 4);
    let (first, last) = if expected.unit.factor < 0.0 { (high, low) } else { (low, high) };
    let last = with_unit(&end(last), &expected.unit.symbol);
    let side = if is_low { "below" } else { "above" };
    format!("{value} is {side} what is usual here, {} to {last}", end(first))
}

/// The first unit of those mixed up in which the number would be usual.
fn meant_unit(
    number: f64,
    typed: &Typed,
    kind: QuantityKind,
    (low, high): (f64, f64),
) -> Option<UnitExpression> {
    mixed_up(kind).iter().filter_map(|text| parse_unit(text).ok()).find(|unit| {
        let si = unit.to_si(number);
        unit.symbol != typed.unit.symbol && si >= low && si <= high
    })
}

/// Units that people take for one another, the likeliest first (`estimate`).
fn mixed_up(kind: QuantityKind) -> &'static [&'static str] {
    match (kind.dimension, kind.nature) {
        (Dimension::PRESSURE, Nature::Gauge) => &["psig", "barg", "kPag", "MPag", "inHg_vac"],
        (Dimension::PRESSURE, _) => &["micron", "mmHg", "mbar", "Pa", "kPa", "inHg", "psi", "bar"],
        (Dimension::TEMPERATURE, Nature::Absolute) => &["degF", "degC", "K"],
        (Dimension::TEMPERATURE, _) => &["degF_diff", "K"],
        (Dimension::TIME, _) => &["s", "min", "h", "d"],
        (Dimension::LENGTH, _) => &["ft", "in", "mm", "m", "cm"],
        (Dimension::AREA, _) => &["mm2", "cm2", "in2", "m2"],
        (Dimension::VOLUME, _) => &["L", "mL", "in3", "ft3", "gal", "m3"],
        (Dimension::FLOW, _) => &["cfm", "L/s", "L/min", "m3/h"],
        (Dimension::THROUGHPUT, _) => {
            &["Pa m3/s", "mbar L/s", "Torr L/s", "micron L/s", "micron_cfm", "atm cm3/s", "sccm"]
        }
        (Dimension::RISE_RATE, _) => &["micron/min", "micron/s", "micron/h", "Pa/min", "mbar/min"],
        (Dimension::MASS, _) => &["g", "oz", "lb", "kg"],
        (Dimension::NONE, _) => &["%", "1"],
        _ => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{parse_range, read_typed};

    fn slip(text: &str, unit: &str, usual: &str, kind: QuantityKind) -> Option<Slip> {
        let mut expected = Expected::new(kind, parse_unit(unit).unwrap());
        expected.usual = Some(parse_range(usual, kind).unwrap());
        likely_slip(&read_typed(text, &expected).unwrap(), &expected)
    }

    fn told(text: &str, unit: &str, usual: &str, kind: QuantityKind) -> (String, String) {
        let slip = slip(text, unit, usual, kind).unwrap();
        (slip.message, slip.suggestion.map_or_else(String::new, |(text, _)| text))
    }

    #[test]
    fn a_pressure_in_another_unit_is_recognised() {
        let vacuum = |text| told(text, "micron", "5 micron to 5000 micron", QuantityKind::PRESSURE);
        for (text, message, suggestion) in [
            (
                "0.5",
                "0.5 micron is lower than a service gauge shows: 0.5 mmHg is 500 micron",
                "500 micron",
            ),
            (
                "2",
                "2 micron is below what is usual here, 5 to 5000 micron: 2 mmHg is 2000 micron",
                "2000 micron",
            ),
            (
                "30 mbar",
                "30 mbar is above what is usual here, 5 to 5000 micron; did you mean 30 micron?",
                "30 micron",
            ),
            ("760000", "760000 micron is above what is usual here, 5 to 5000 micron", ""),
        ] {
            assert_eq!(vacuum(text), (message.to_owned(), suggestion.to_owned()), "{text}");
        }
    }

    #[test]
    fn other_kinds_are_mixed_up_too() {
        for (text, unit, usual, kind, message) in [
            (
                "77",
                "degC",
                "-20 degC to 50 degC",
                QuantityKind::TEMPERATURE,
                "77 degC is above what is usual here, -20 to 50 degC: 77 degF is 25 degC",
            ),
            (
                "50",
                "m",
                "1 m to 30 m",
                QuantityKind::LENGTH,
                "50 m is above what is usual here, 1 to 30 m: 50 ft is 15.24 m",
            ),
            (
                "6",
                "L/s",
                "0.5 L/s to 5 L/s",
                QuantityKind::FLOW,
                "6 L/s is above what is usual here, 0.5 to 5 L/s: 6 cfm is 2.832 L/s",
            ),
            (
                "300",
                "min",
                "1 min to 60 min",
                QuantityKind::TIME,
                "300 min is above what is usual here, 1 to 60 min: 300 s is 5 min",
            ),
            (
                "0.1",
                "%",
                "1 % to 30 %",
                QuantityKind::NUMBER,
                "0.1 % is below what is usual here, 1 to 30 %: 0.1 is 10 %",
            ),
        ] {
            assert_eq!(told(text, unit, usual, kind).0, message);
        }
    }

    #[test]
    fn a_suggestion_is_read_back_as_itself() {
        let kind = QuantityKind::PRESSURE;
        let slip = slip("0.5", "micron", "5 micron to 5000 micron", kind).unwrap();
        let (text, si) = slip.suggestion.unwrap();
        let expected = Expected::new(kind, parse_unit("micron").unwrap());
        assert!((read_typed(&text, &expected).unwrap().value / si - 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_usual_or_points_outward_is_left_alone() {
        let vacuum = |text| slip(text, "micron", "5 micron to 5000 micron", QuantityKind::PRESSURE);
        for text in ["5", "5000", "0.5 mbar", "over 20000", "under 2"] {
            assert_eq!(vacuum(text), None, "{text}");
        }
        assert!(vacuum("over 2").is_some());
        let expected = Expected::new(QuantityKind::PRESSURE, parse_unit("micron").unwrap());
        assert_eq!(likely_slip(&read_typed("0.5", &expected).unwrap(), &expected), None);
    }
}
