//! Values and ranges as authors write them in a handbook.

use super::expected::with_article;
use super::fitting::fitting;
use super::misread::shown;
use super::number::{Manner, read_number};
use super::{Expected, Misread, NAMED_KINDS, QuantityKind, UnitExpression, parse_unit};

/// Reads a setting such as `10 %` or `5 min`, in SI units.
///
/// Numbers are plain, and every one but a bare number carries its unit.
///
/// # Errors
/// A [`Misread`] that says what was read and what is accepted.
///
/// ```
/// use dryhold::quantity::{QuantityKind, parse_quantity};
/// assert_eq!(parse_quantity("5 min", QuantityKind::TIME), Ok(300.0));
/// assert_eq!(
///     parse_quantity("5", QuantityKind::TIME).unwrap_err().to_string(),
///     "`5` has no unit; write a time, such as 10 min"
/// );
/// ```
pub fn parse_quantity(text: &str, kind: QuantityKind) -> Result<f64, Misread> {
    let accepted = accepted(kind);
    let (number, unit) = number_and_unit(text, kind, &accepted)?;
    in_si(number, unit, text, kind, &accepted)
}

/// Reads a range such as `20 micron to 2000 micron`, in SI units; the low end comes first and
/// may equal the high end. A low end without a unit has the unit of the high end: `5 to 10 min`.
///
/// # Errors
/// A [`Misread`] that says what was read and what is accepted.
///
/// ```
/// use dryhold::quantity::{QuantityKind, parse_range};
/// assert_eq!(parse_range("0 to 1.5 h", QuantityKind::TIME), Ok((0.0, 5400.0)));
/// ```
pub fn parse_range(text: &str, kind: QuantityKind) -> Result<(f64, f64), Misread> {
    let not_a_range = || Misread::NotARange { text: shown(text) };
    let (low, high) = text.split_once(" to ").ok_or_else(not_a_range)?;
    let accepted = accepted(kind);
    let (low_number, low_unit) = number_and_unit(low, kind, &accepted)?;
    let (high_number, high_unit) = number_and_unit(high, kind, &accepted)?;
    let low_unit = low_unit.or_else(|| high_unit.clone());
    let low = in_si(low_number, low_unit, low, kind, &accepted)?;
    let high = in_si(high_number, high_unit, high, kind, &accepted)?;
    if low <= high { Ok((low, high)) } else { Err(not_a_range()) }
}

fn number_and_unit(
    text: &str,
    kind: QuantityKind,
    accepted: &str,
) -> Result<(f64, Option<UnitExpression>), Misread> {
    let text = text.trim();
    if text.is_empty() {
        return Err(Misread::Empty { accepted: accepted.to_owned() });
    }
    let (number, rest) = read_number(text, Manner::Setting)
        .map_err(|fault| Misread::of_number(fault, text, accepted))?;
    if rest.trim().is_empty() {
        return Ok((number, None));
    }
    let unit = parse_unit(rest).map_err(|error| Misread::of_unit(error, accepted))?;
    Ok((number, Some(fitting(unit, kind, accepted)?)))
}

fn in_si(
    number: f64,
    unit: Option<UnitExpression>,
    text: &str,
    kind: QuantityKind,
    accepted: &str,
) -> Result<f64, Misread> {
    let value = match unit {
        Some(unit) => unit.to_si(number),
        None if kind == QuantityKind::NUMBER => number,
        None => {
            let (number, accepted) = (shown(text), accepted.to_owned());
            return Err(Misread::MissingUnit { number, accepted });
        }
    };
    if value.is_finite() { Ok(value) } else { Err(Misread::NotFinite { number: shown(text) }) }
}

/// `a time, such as 10 min`, in the unit in which the kind is shown by default.
fn accepted(kind: QuantityKind) -> String {
    NAMED_KINDS
        .iter()
        .find(|named| named.kind == kind)
        .and_then(|named| parse_unit(named.unit).ok())
        .map_or_else(|| with_article(kind), |unit| Expected::new(kind, unit).hint())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refusal(text: &str, kind: QuantityKind) -> String {
        parse_quantity(text, kind).unwrap_err().to_string()
    }

    #[test]
    fn settings_are_read_in_their_units() {
        assert_eq!(parse_quantity("10 %", QuantityKind::NUMBER), Ok(0.1));
        assert_eq!(parse_quantity("3", QuantityKind::NUMBER), Ok(3.0));
        assert_eq!(parse_quantity("5 K", QuantityKind::TEMPERATURE_DIFFERENCE), Ok(5.0));
        let micron = parse_quantity("5 micron", QuantityKind::PRESSURE_DIFFERENCE).unwrap();
        assert!((micron - 0.666_611_937_075).abs() < 1e-12);
        let (low, high) = parse_range("0.5 mL to 20 L", QuantityKind::VOLUME).unwrap();
        assert!((low - 5e-7).abs() < 1e-18 && (high - 0.02).abs() < 1e-15);
        let same = parse_range("500 micron to 500 micron", QuantityKind::PRESSURE).unwrap();
        assert_eq!(same.0, same.1);
    }

    #[test]
    fn refusals_say_what_is_accepted() {
        assert_eq!(
            refusal("5 micron", QuantityKind::TIME),
            "`micron` is a unit of pressure, but a time is asked for; \
             type a time, such as 10 min"
        );
        assert_eq!(
            refusal("1,200 micron", QuantityKind::PRESSURE),
            "`1,200` is understood at a prompt only; write `1200`"
        );
        assert_eq!(
            refusal("", QuantityKind::TIME),
            "no value stands here; type a time, such as 10 min"
        );
        let reversed = parse_range("50 micron to 5 micron", QuantityKind::PRESSURE);
        assert_eq!(
            reversed.unwrap_err().to_string(),
            "`50 micron to 5 micron` is not a range; write it as `5 micron to 50 micron`, \
             the lower end first"
        );
        assert!(parse_range("5 micron", QuantityKind::PRESSURE).is_err());
    }
}
