//! Pressures as logs write them: numbers, marks off the scale, nothing.

use super::Remark;
use super::decimal::{Comma, Decimal};
use super::readings::Beyond;
use crate::quantity::{Bound, Expected, QuantityKind, UnitExpression, parse_unit, read_typed};

/// What loggers write for no value.
const MISSING: &[&str] = &["", "-", "--", "na", "n/a", "nan", "#n/a", "null", "none", "?"];
/// What gauges show above their scale.
const OVER: &[&str] = &[
    "ol",
    "o.l",
    "o.l.",
    "0l",
    "over",
    "overrange",
    "over range",
    "over-range",
    "overload",
    "or",
    "hi",
    "high",
    "inf",
    "+inf",
    "+++",
    "++++",
    "---",
    "----",
    "-----",
    ">>>",
    ">>",
];
/// What gauges show below it.
const UNDER: &[&str] = &[
    "ul",
    "u.l",
    "under",
    "underrange",
    "under range",
    "under-range",
    "ur",
    "lo",
    "low",
    "<<<",
    "<<",
];

/// Beyond any pressure, in Pa, and small enough that sums of it stay finite.
const MOST_PASCALS: f64 = 1e12;

/// What a cell of a pressure column says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum PressureCell {
    /// A pressure in Pa; with the number shown where it is in the column's own unit.
    Value(f64, Option<Decimal>),
    /// The gauge was off its scale; the end of it in Pa where it is told.
    Beyond(Beyond, Option<f64>),
    /// Nothing that can be used.
    Unusable(Remark),
    /// A bare number, and no unit is known.
    NoUnit,
}

/// Reads one column of pressures.
pub(super) struct PressureReader {
    unit: Option<UnitExpression>,
    expected: Option<Expected>,
}

impl PressureReader {
    pub fn new(unit: Option<UnitExpression>) -> Self {
        let bare = unit.clone().or_else(|| parse_unit("Pa").ok());
        let expected = bare.map(|unit| Expected::new(QuantityKind::PRESSURE, unit));
        Self { unit, expected }
    }

    pub fn read(&self, cell: &[u8], comma: Comma) -> PressureCell {
        if let Some(number) = Decimal::read(cell, comma) {
            let Some(unit) = &self.unit else { return PressureCell::NoUnit };
            return value(unit.to_si(number.value), Some(number));
        }
        let Ok(text) = std::str::from_utf8(cell) else {
            return PressureCell::Unusable(Remark::PressureUnreadable);
        };
        // A bare number that is none here, such as `1.200` among decimal commas, is not guessed.
        if comma == Comma::Decimal && Decimal::read(cell, Comma::Thousands).is_some() {
            return PressureCell::Unusable(Remark::PressureUnreadable);
        }
        self.read_words(text.trim())
    }

    fn read_words(&self, text: &str) -> PressureCell {
        let word = text.to_ascii_lowercase();
        if MISSING.contains(&&*word) {
            return PressureCell::Unusable(Remark::PressureMissing);
        }
        for (words, beyond) in [(OVER, Beyond::Over), (UNDER, Beyond::Under)] {
            if words.contains(&&*word) {
                return PressureCell::Beyond(beyond, None);
            }
        }
        let typed = self.expected.as_ref().and_then(|expected| read_typed(text, expected).ok());
        let Some(typed) = typed else {
            return PressureCell::Unusable(Remark::PressureUnreadable);
        };
        let has_unit = text.ends_with(|c: char| !c.is_ascii_digit() && c != '.');
        if self.unit.is_none() && !has_unit {
            return PressureCell::NoUnit;
        }
        match typed.bound {
            Bound::Exact => value(typed.value, None),
            Bound::Over => PressureCell::Beyond(Beyond::Over, Some(typed.value)),
            Bound::Under => PressureCell::Beyond(Beyond::Under, Some(typed.value)),
        }
    }
}

fn value(pascals: f64, shown: Option<Decimal>) -> PressureCell {
    if pascals > MOST_PASCALS {
        return PressureCell::Unusable(Remark::PressureUnreadable);
    }
    if pascals < 0.0 {
        return PressureCell::Unusable(Remark::BelowZero);
    }
    PressureCell::Value(pascals, shown)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> PressureCell {
        PressureReader::new(Some(parse_unit("Pa").unwrap())).read(text.as_bytes(), Comma::Unsettled)
    }

    #[test]
    fn marks_off_the_scale_are_no_pressures() {
        for text in ["OL", "---", "over range", "HI"] {
            assert_eq!(read(text), PressureCell::Beyond(Beyond::Over, None), "{text}");
        }
        assert_eq!(read(">20000"), PressureCell::Beyond(Beyond::Over, Some(20_000.0)));
        let PressureCell::Beyond(Beyond::Over, Some(limit)) = read("over 20000 micron") else {
            panic!("no mark");
        };
        assert!((limit - 2666.448).abs() < 1e-3);
        assert_eq!(read("< 5"), PressureCell::Beyond(Beyond::Under, Some(5.0)));
    }

    #[test]
    fn what_is_missing_is_told_from_what_can_not_be_read() {
        for text in ["", "NA", "nan", "-"] {
            assert_eq!(read(text), PressureCell::Unusable(Remark::PressureMissing), "{text}");
        }
        for text in ["oil", "12 psig", "3 min", "1.2.3"] {
            assert_eq!(read(text), PressureCell::Unusable(Remark::PressureUnreadable), "{text}");
        }
        assert_eq!(read("-3"), PressureCell::Unusable(Remark::BelowZero));
    }

    #[test]
    fn a_bare_number_needs_a_unit() {
        let reader = PressureReader::new(None);
        assert_eq!(reader.read(b"420", Comma::Unsettled), PressureCell::NoUnit);
        assert_eq!(reader.read(b">420", Comma::Unsettled), PressureCell::NoUnit);
        assert!(matches!(reader.read(b"4 Pa", Comma::Unsettled), PressureCell::Value(4.0, None)));
    }
}
