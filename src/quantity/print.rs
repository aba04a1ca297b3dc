//! Printing a quantity with the digits that its uncertainty deserves.

use super::digits::{
    leading_place, place_of_doubt, to_place, to_place_at_size, to_significant,
    without_trailing_zeros,
};
use super::product::zero_based;
use super::{Dimension, Nature, QuantityKind, UnitExpression, find_unit};

/// Digits of a value whose uncertainty is not known (`common_practice`).
const DIGITS: usize = 4;
/// A half-width below this share of its value is rounding error of the arithmetic.
const SMALLEST_SHARE: f64 = 1e-9;
/// From here on a time in minutes is told in hours and minutes, in seconds.
const HOURS_FROM: f64 = 90.0 * MINUTE;
const MINUTE: f64 = 60.0;
const HOUR: f64 = 3600.0;
const DAY: f64 = 86_400.0;
const YEAR: f64 = 31_557_600.0;

/// A value with its half-width: `45 micron`, `12 +- 6 micron`, `0.0013 L/s`, `never`.
///
/// `value` and `half_width` are in SI units. The half-width is rounded to two digits if it begins
/// with 1 or 2 and to one otherwise, and the value to the same place (JCGM 100:2008, 7.2.6).
/// Without a half-width, or with one that is zero or not finite, four significant digits stand.
/// Exponents appear below 1e-4 and from 1e7 on. Differences are told without the zero of their
/// unit: one in degC prints as `5 K`. A time of 90 min or more whose unit is `min`, without a
/// half-width, prints as `2 h 5 min`; in every other unit it stays in that unit.
///
/// ```
/// use dryhold::quantity::{QuantityKind, parse_unit, show};
/// let micron = parse_unit("micron").unwrap();
/// let shown = show(1.6, Some(0.8), &micron, QuantityKind::PRESSURE);
/// assert_eq!(shown, "12 +- 6 micron");
/// ```
#[must_use]
pub fn show(
    value: f64,
    half_width: Option<f64>,
    unit: &UnitExpression,
    kind: QuantityKind,
) -> String {
    let scale = Scale::new(unit, kind);
    match scale.doubt(value, half_width) {
        Some(doubt) => {
            let number = scale.number(value);
            let place = place_of_doubt(doubt);
            let size = leading_place(number).max(leading_place(doubt));
            let number = to_place_at_size(number, place, size);
            scale.with_symbol(&format!("{number} +- {}", to_place_at_size(doubt, place, size)))
        }
        None => scale.alone(value, None),
    }
}

/// The value alone, rounded to the place that its half-width leaves standing: `1230 micron`.
///
/// As [`show`], without the half-width itself; for sentences that tell it elsewhere. A value that
/// this rounding would wipe out keeps one digit; zeros at the end behind the point are dropped.
#[must_use]
pub fn show_rounded(
    value: f64,
    half_width: Option<f64>,
    unit: &UnitExpression,
    kind: QuantityKind,
) -> String {
    let scale = Scale::new(unit, kind);
    scale.alone(value, scale.doubt(value, half_width).map(place_of_doubt))
}

/// A value with every digit that was typed, if it was typed in this unit: `333 micron`. None if
/// it has more than six significant digits there, as what was converted has.
///
/// ```
/// use dryhold::quantity::{QuantityKind, parse_unit, show_as_typed};
/// let micron = parse_unit("micron").unwrap();
/// let shown = |si| show_as_typed(si, &micron, QuantityKind::PRESSURE);
/// assert_eq!(shown(micron.to_si(333.0)).as_deref(), Some("333 micron"));
/// assert_eq!(shown(33.3), None);
/// ```
#[must_use]
pub fn show_as_typed(value: f64, unit: &UnitExpression, kind: QuantityKind) -> Option<String> {
    let scale = Scale::new(unit, kind);
    let number = scale.number(value);
    let rounded: f64 = format!("{number:.5e}").parse().ok()?;
    let is_typed = (number - rounded).abs() <= SMALLEST_SHARE * number.abs();
    is_typed.then(|| scale.alone(value, Some(leading_place(rounded) - 5)))
}

/// An interval that does not lie evenly about its middle: `between 30 and 120 micron`.
///
/// `low` and `high` are in SI units. Each end gets two significant digits, and more where the
/// width of the interval deserves them. An interval without an upper end is told as
/// `30 micron or more`.
#[must_use]
pub fn show_between(low: f64, high: f64, unit: &UnitExpression, kind: QuantityKind) -> String {
    let scale = Scale::new(unit, kind);
    let (low, high) = if scale.factor < 0.0 { (high, low) } else { (low, high) };
    let one_sided = |end| scale.alone(end, Some(scale.place_of_end(end, f64::INFINITY)));
    match (scale.is_finite(low), scale.is_finite(high)) {
        (true, true) => {}
        (true, false) => return format!("{} or more", one_sided(low)),
        (false, true) => return format!("{} or less", one_sided(high)),
        (false, false) => return scale.alone(high, None),
    }
    let width = scale.width(high - low);
    let end = |value| (value, scale.place_of_end(value, width));
    let ((low, low_place), (high, high_place)) = (end(low), end(high));
    let first = scale.alone(low, Some(low_place));
    let last = scale.alone(high, Some(high_place));
    if first == last {
        return first;
    }
    // The unit is said once where both ends carry the same.
    let first = match scale.is_told_in_hours(low) || scale.is_told_in_hours(high) {
        true => first,
        false => scale.plain_number(low, Some(low_place)),
    };
    format!("between {first} and {last}")
}

/// A unit together with how it applies to a kind.
struct Scale<'a> {
    symbol: &'a str,
    factor: f64,
    offset: f64,
    is_time: bool,
}

impl<'a> Scale<'a> {
    fn new(unit: &'a UnitExpression, kind: QuantityKind) -> Self {
        let is_difference = kind.nature == Nature::Difference
            || kind.nature == Nature::Open && kind.dimension == Dimension::TEMPERATURE;
        let is_time = kind.dimension == Dimension::TIME;
        let has_true_zero = unit.offset == 0.0 && unit.kind.nature != Nature::Gauge;
        if is_difference
            && !has_true_zero
            && let Some(plain) = find_unit(zero_based(&unit.symbol))
        {
            return Self { symbol: plain.symbol, factor: plain.factor, offset: 0.0, is_time };
        }
        Self { symbol: &unit.symbol, factor: unit.factor, offset: unit.offset, is_time }
    }

    fn number(&self, si: f64) -> f64 {
        (si - self.offset) / self.factor
    }

    fn is_finite(&self, value: f64) -> bool {
        self.number(value).is_finite()
    }

    fn width(&self, si: f64) -> f64 {
        (si / self.factor).abs()
    }

    /// The half-width in this unit, if there is one worth telling.
    fn doubt(&self, value: f64, half_width: Option<f64>) -> Option<f64> {
        let doubt = self.width(half_width?);
        let is_told = self.is_finite(value)
            && doubt.is_finite()
            && doubt > self.number(value).abs() * SMALLEST_SHARE
            && doubt > 0.0;
        is_told.then_some(doubt)
    }

    fn place_of_end(&self, value: f64, width: f64) -> i32 {
        let two_digits = leading_place(self.number(value)) - 1;
        if width > 0.0 && width.is_finite() {
            two_digits.min(place_of_doubt(width / 2.0))
        } else {
            two_digits
        }
    }

    /// The value with its unit, rounded to a place or to the usual digits.
    fn alone(&self, value: f64, place: Option<i32>) -> String {
        if value.is_nan() {
            "not known".to_owned()
        } else if !self.is_finite(value) {
            let is_never = self.is_time && value > 0.0;
            if is_never { "never" } else { "without limit" }.to_owned()
        } else if self.is_told_in_hours(value) {
            in_hours(value, place)
        } else {
            self.with_symbol(&self.plain_number(value, place))
        }
    }

    fn plain_number(&self, value: f64, place: Option<i32>) -> String {
        let number = self.number(value);
        match place {
            Some(place) => {
                let leading = leading_place(number);
                let written = to_place_at_size(number, place.min(leading), leading);
                if written.contains('e') {
                    written
                } else {
                    without_trailing_zeros(&written).to_owned()
                }
            }
            None => to_significant(number, DIGITS),
        }
    }

    fn is_told_in_hours(&self, value: f64) -> bool {
        self.is_time && self.symbol == "min" && value.abs() >= HOURS_FROM
    }

    fn with_symbol(&self, number: &str) -> String {
        match self.symbol {
            "1" => number.to_owned(),
            // The same step; the other name is for formulas.
            "degC_diff" => format!("{number} K"),
            symbol => format!("{number} {symbol}"),
        }
    }
}

/// A time of 90 min or more in its two largest units: `2 h 5 min`, `3 d 4 h`, or in years.
/// `place` is the last place that stands, in minutes.
fn in_hours(seconds: f64, place: Option<i32>) -> String {
    let minutes = match place {
        Some(place) if place > 0 => to_place(seconds / MINUTE, place).parse().unwrap_or(seconds),
        _ => (seconds / MINUTE).round(),
    };
    let seconds = minutes * MINUTE;
    let (size, sign) = (seconds.abs(), if seconds < 0.0 { "-" } else { "" });
    let pair = |large: f64, small: f64, names: [&str; 2]| {
        let smalls = (size / small).round();
        let per = large / small;
        let (whole, rest) = ((smalls / per).floor(), smalls % per);
        let tail = if rest == 0.0 { String::new() } else { format!(" {rest:.0} {}", names[1]) };
        format!("{sign}{whole:.0} {}{tail}", names[0])
    };
    if size < 2.0 * DAY {
        pair(HOUR, MINUTE, ["h", "min"])
    } else if size < 2.0 * YEAR {
        pair(DAY, HOUR, ["d", "h"])
    } else {
        format!("{sign}{} year", to_significant(size / YEAR, 2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::parse_unit;

    fn in_unit(unit: &str, number: f64, half_width: Option<f64>, kind: QuantityKind) -> String {
        let unit = parse_unit(unit).unwrap();
        let si = if kind.nature == Nature::Difference {
            number * unit.factor
        } else {
            unit.to_si(number)
        };
        show(si, half_width.map(|h| h * unit.factor.abs()), &unit, kind)
    }

    #[test]
    fn values_are_printed_to_the_place_of_their_doubt() {
        let micron = |number, half| in_unit("micron", number, half, QuantityKind::PRESSURE);
        assert_eq!(micron(45.0, None), "45 micron");
        assert_eq!(micron(12.3, Some(6.4)), "12 +- 6 micron");
        assert_eq!(micron(1234.0, Some(56.0)), "1230 +- 60 micron");
        assert_eq!(micron(503.7, Some(0.14)), "503.70 +- 0.14 micron");
        assert_eq!(micron(3.0, Some(20.0)), "3 +- 20 micron");
        assert_eq!(micron(3.0, Some(0.0)), "3 micron");
        assert_eq!(micron(3.0, Some(f64::INFINITY)), "3 micron");
        assert_eq!(in_unit("L/s", 0.0013, None, QuantityKind::FLOW), "0.0013 L/s");
        assert_eq!(
            in_unit("Pa m3/s", 1.234e-5, Some(4e-7), QuantityKind::THROUGHPUT),
            "1.23e-5 +- 4e-7 Pa m3/s"
        );
        assert_eq!(in_unit("%", 12.0, None, QuantityKind::NUMBER), "12 %");
        assert_eq!(in_unit("1", 12.0, None, QuantityKind::NUMBER), "12");
    }

    #[test]
    fn a_value_alone_keeps_only_the_digits_it_deserves() {
        let micron = parse_unit("micron").unwrap();
        let rounded = |number: f64, half: f64| {
            let (value, half) = (micron.to_si(number), Some(micron.to_si(half)));
            show_rounded(value, half, &micron, QuantityKind::PRESSURE)
        };
        assert_eq!(rounded(1234.0, 56.0), "1230 micron");
        assert_eq!(rounded(3.4, 20.0), "3 micron");
        assert_eq!(rounded(900.0, 95.0), "900 micron");
    }

    #[test]
    fn differences_lose_the_zero_of_their_unit() {
        let kind = QuantityKind::TEMPERATURE_DIFFERENCE;
        assert_eq!(in_unit("degC", 5.0, None, kind), "5 K");
        assert_eq!(in_unit("degF", 9.0, Some(2.0), kind), "9.0 +- 2.0 degF_diff");
        assert_eq!(in_unit("psig", 9.0, None, QuantityKind::PRESSURE_DIFFERENCE), "9 psi");
        assert_eq!(in_unit("degF", 77.0, Some(3.0), QuantityKind::TEMPERATURE), "77 +- 3 degF");
        assert_eq!(in_unit("inHg_vac", 29.0, None, QuantityKind::GAUGE_PRESSURE), "29 inHg_vac");
    }

    #[test]
    fn long_times_are_told_in_hours_and_infinite_ones_as_never() {
        let minutes = |number| in_unit("min", number, None, QuantityKind::TIME);
        assert_eq!(minutes(89.4), "89.4 min");
        assert_eq!(minutes(125.0), "2 h 5 min");
        assert_eq!(minutes(119.9), "2 h");
        assert_eq!(minutes(3.0 * 1440.0 + 240.0), "3 d 4 h");
        assert_eq!(minutes(2.0 * 1440.0 - 0.1), "2 d");
        assert_eq!(minutes(3.0e6), "5.7 year");
        assert_eq!(minutes(f64::INFINITY), "never");
        assert_eq!(in_unit("h", 30.0, None, QuantityKind::TIME), "30 h");
        assert_eq!(in_unit("min", 125.0, Some(5.0), QuantityKind::TIME), "125 +- 5 min");
        let min = parse_unit("min").unwrap();
        let rounded = show_rounded(1234.0 * 60.0, Some(56.0 * 60.0), &min, QuantityKind::TIME);
        assert_eq!(rounded, "20 h 30 min");
    }

    #[test]
    fn lopsided_intervals_tell_both_ends() {
        let between = |low: f64, high: f64, unit: &str, kind| {
            let unit = parse_unit(unit).unwrap();
            show_between(unit.to_si(low), unit.to_si(high), &unit, kind)
        };
        let (pressure, time) = (QuantityKind::PRESSURE, QuantityKind::TIME);
        assert_eq!(between(29.6, 118.0, "micron", pressure), "between 30 and 120 micron");
        assert_eq!(between(0.31, 118.0, "micron", pressure), "between 0.31 and 120 micron");
        assert_eq!(between(101_321.0, 101_335.0, "Pa", pressure), "between 101321 and 101335 Pa");
        assert_eq!(between(40.0, 125.0, "min", time), "between 40 min and 2 h 10 min");
        assert_eq!(between(40.0, f64::INFINITY, "min", time), "40 min or more");
        assert_eq!(between(5.0, 5.0, "micron", pressure), "5 micron");
        let gauge = QuantityKind::GAUGE_PRESSURE;
        assert_eq!(between(29.0, 25.0, "inHg_vac", gauge), "between 25 and 29 inHg_vac");
    }
}
