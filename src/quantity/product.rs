//! Products of units, from their parts and from text such as `Pa m3/s`.

use thiserror::Error;

use super::unit::near_unit;
use super::{Dimension, QuantityKind, Unit, UnitExpression, find_unit};

/// The largest power of a unit that is understood.
const HIGHEST_POWER: i8 = 9;
/// The most units in a product, and bytes in its text, that are understood.
const MOST_UNITS: usize = 16;
const LONGEST_TEXT: usize = 200;

/// Why a text or a product is no unit.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum UnitError {
    /// There is nothing to read.
    #[error("no unit stands here")]
    Empty,
    /// A word that is no unit, with the spelling it most likely meant.
    #[error("`{word}` is not a unit{}", near.map_or_else(String::new, |n| format!(" (did you mean `{n}`?)")))]
    Unknown {
        /// The word.
        word: String,
        /// A spelling near enough to be worth saying.
        near: Option<&'static str>,
    },
    /// A unit in a product whose zero is not the zero of what it measures.
    #[error(
        "`{unit}` does not count from a true zero and can't be part of a product; write `{mend}`"
    )]
    NoTrueZero {
        /// The unit.
        unit: &'static str,
        /// The unit to write instead.
        mend: &'static str,
    },
    /// A power that is no whole number from -9 to 9, or none at all.
    #[error("the power of `{word}` must be a whole number from -9 to 9")]
    BadPower {
        /// The unit with its power, as written.
        word: String,
    },
    /// A sign that joins units without a unit on both sides.
    #[error("a unit is missing beside `{sign}`")]
    Dangling {
        /// The sign.
        sign: char,
    },
    /// More than 16 units, more than 200 bytes, or powers beyond what can be held.
    #[error("this product of units is too long")]
    TooLong,
}

impl UnitExpression {
    /// The product of powers of units: `[(L, 1), (s, -1)]` is `L/s`. One unit to the first power
    /// is that unit itself, and no unit at all is the number 1.
    ///
    /// # Errors
    /// [`UnitError::NoTrueZero`] for degC, degF and gauge units in a product,
    /// [`UnitError::BadPower`] for a power beyond -9 to 9, [`UnitError::TooLong`] for more than
    /// 16 units or a dimension beyond what can be held.
    pub fn product(units: &[(&Unit, i8)]) -> Result<Self, UnitError> {
        if let [(unit, 1)] = units {
            return Ok(Self::from(*unit));
        }
        if units.len() > MOST_UNITS {
            return Err(UnitError::TooLong);
        }
        let mut dimension = Dimension::NONE;
        let mut factor = 1.0;
        for &(unit, power) in units {
            if !unit.has_true_zero() {
                return Err(UnitError::NoTrueZero {
                    unit: unit.symbol,
                    mend: zero_based(unit.symbol),
                });
            }
            if power == 0 || !(-HIGHEST_POWER..=HIGHEST_POWER).contains(&power) {
                return Err(UnitError::BadPower { word: format!("{}^{power}", unit.symbol) });
            }
            dimension = unit
                .kind
                .dimension
                .to_power(power)
                .and_then(|raised| dimension.times(raised))
                .ok_or(UnitError::TooLong)?;
            for _ in 0..power.unsigned_abs() {
                factor = if power > 0 { factor * unit.factor } else { factor / unit.factor };
            }
        }
        if !factor.is_normal() {
            return Err(UnitError::TooLong);
        }
        let kind = QuantityKind::computed(dimension);
        Ok(Self { symbol: product_symbol(units), kind, factor, offset: 0.0 })
    }
}

/// The unit to write in a product, or for a difference, in place of one without a true zero.
pub(super) fn zero_based(symbol: &str) -> &'static str {
    match symbol {
        "degC" => "K",
        "degF" => "degF_diff",
        "psig" => "psi",
        "barg" => "bar",
        "mbarg" => "mbar",
        "kPag" => "kPa",
        "MPag" => "MPa",
        "inHg_vac" => "inHg",
        "cmHg_vac" => "cmHg",
        _ => "Pa",
    }
}

fn product_symbol(units: &[(&Unit, i8)]) -> String {
    let power = |unit: &Unit, power: u8| match power {
        1 => unit.symbol.to_owned(),
        _ => format!("{}^{power}", unit.symbol),
    };
    let over: Vec<String> = units
        .iter()
        .filter(|(unit, p)| *p > 0 && unit.symbol != "1")
        .map(|(unit, p)| power(unit, p.unsigned_abs()))
        .collect();
    let mut symbol = if over.is_empty() { "1".to_owned() } else { over.join(" ") };
    for (unit, p) in units.iter().filter(|(_, p)| *p < 0) {
        symbol.push('/');
        symbol.push_str(&power(unit, p.unsigned_abs()));
    }
    symbol
}

/// Reads a unit or a product of units: `L/s`, `Pa m3/s`, `mbar*L/s`, `atm-cc/s`, `W/m^2`.
///
/// Units are joined by a blank, `*`, `·` or a hyphen; `/` and `per` divide by the one unit that
/// follows; `^` or a raised figure gives a whole power.
///
/// # Errors
/// A [`UnitError`] that names the first word that is no unit, with a near name.
pub fn parse_unit(text: &str) -> Result<UnitExpression, UnitError> {
    parse_unit_with(text, find_unit)
}

/// [`parse_unit`] with another way to find a unit by its name.
pub(super) fn parse_unit_with(
    text: &str,
    find: impl Fn(&str) -> Option<&'static Unit>,
) -> Result<UnitExpression, UnitError> {
    if text.len() > LONGEST_TEXT {
        return Err(UnitError::TooLong);
    }
    let mut units = Vec::new();
    let mut pending: Option<char> = None;
    for part in split(text) {
        match part {
            Part::Sign(sign) => {
                if pending.is_some() || units.is_empty() {
                    return Err(UnitError::Dangling { sign });
                }
                pending = Some(sign);
            }
            Part::Word(word) => {
                let (unit, power) = read_factor(word, &find)?;
                let power = if pending.take() == Some('/') { -power } else { power };
                units.push((unit, power));
            }
        }
    }
    if let Some(sign) = pending {
        return Err(UnitError::Dangling { sign });
    }
    if units.is_empty() {
        return Err(UnitError::Empty);
    }
    UnitExpression::product(&units)
}

enum Part<'a> {
    Sign(char),
    Word(&'a str),
}

fn split(text: &str) -> Vec<Part<'_>> {
    let mut parts = Vec::new();
    let mut start = None;
    let mut letters = text.char_indices().peekable();
    while let Some((at, c)) = letters.next() {
        let is_hyphen = c == '-' && letters.peek().is_some_and(|(_, next)| next.is_alphabetic());
        let sign = match c {
            '/' => Some('/'),
            '*' | '·' | '⋅' => Some('*'),
            _ if is_hyphen && start.is_some() => Some('-'),
            _ => None,
        };
        if sign.is_some() || c.is_whitespace() {
            if let Some(from) = start.take() {
                parts.push(word(&text[from..at]));
            }
            parts.extend(sign.map(Part::Sign));
        } else if start.is_none() {
            start = Some(at);
        }
    }
    if let Some(from) = start {
        parts.push(word(&text[from..]));
    }
    parts
}

fn word(text: &str) -> Part<'_> {
    if text == "per" { Part::Sign('/') } else { Part::Word(text) }
}

/// A unit with its power.
fn read_factor(
    word: &str,
    find: &impl Fn(&str) -> Option<&'static Unit>,
) -> Result<(&'static Unit, i8), UnitError> {
    if let Some(unit) = find(word) {
        return Ok((unit, 1));
    }
    let bad_power = || UnitError::BadPower { word: word.to_owned() };
    let (name, power) = if let Some((name, power)) = word.split_once('^') {
        (name, power.parse().map_err(|_| bad_power())?)
    } else if let Some(name) = word.strip_suffix('²') {
        (name, 2)
    } else if let Some(name) = word.strip_suffix('³') {
        (name, 3)
    } else {
        (word, 1)
    };
    let unit = find(name)
        .ok_or_else(|| UnitError::Unknown { word: name.to_owned(), near: near_unit(name) })?;
    if power == 0 || !(-HIGHEST_POWER..=HIGHEST_POWER).contains(&power) {
        return Err(bad_power());
    }
    Ok((unit, power))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn symbol(text: &str) -> String {
        parse_unit(text).map_or_else(|e| e.to_string(), |unit| unit.symbol)
    }

    #[test]
    fn products_are_read_in_every_usual_spelling() {
        for (text, printed) in [
            ("micron", "micron"),
            ("Pa m3/s", "Pa m3/s"),
            ("Pa·m³/s", "Pa m^3/s"),
            ("mbar*L/s", "mbar L/s"),
            ("atm-cc/s", "atm cm3/s"),
            ("L per min", "L/min"),
            ("W/m^2/K", "W/m^2/K"),
            ("1/min", "1/min"),
            ("m s^-1", "m/s"),
        ] {
            assert_eq!(symbol(text), printed, "{text}");
            let read = parse_unit(text).unwrap();
            assert_eq!(parse_unit(printed).unwrap(), read, "{text}");
        }
    }

    #[test]
    fn what_is_no_unit_is_named() {
        for (text, message) in [
            ("", "no unit stands here"),
            ("micorn/min", "`micorn` is not a unit (did you mean `micron`?)"),
            ("xyzzy", "`xyzzy` is not a unit"),
            ("micron/", "a unit is missing beside `/`"),
            ("/min", "a unit is missing beside `/`"),
            ("L//s", "a unit is missing beside `/`"),
            ("m^x", "the power of `m^x` must be a whole number from -9 to 9"),
            ("m^0", "the power of `m^0` must be a whole number from -9 to 9"),
            (
                "degC/min",
                "`degC` does not count from a true zero and can't be part of a product; write `K`",
            ),
            (
                "psig L/s",
                "`psig` does not count from a true zero and can't be part of a product; \
                 write `psi`",
            ),
        ] {
            assert_eq!(symbol(text), message);
        }
    }

    #[test]
    fn kinds_follow_from_dimensions() {
        let kind = |text| parse_unit(text).unwrap().kind;
        assert_eq!(kind("cfm"), kind("L/s"));
        assert_eq!(kind("micron cfm"), kind("micron_cfm"));
        assert_eq!(kind("micron/min"), QuantityKind::RISE_RATE);
        assert_eq!(kind("degC"), QuantityKind::TEMPERATURE);
        assert_eq!(kind("mbar/bar"), QuantityKind::NUMBER);
        assert_eq!(kind("Pa m3/s/L s").name(), "pressure");
    }

    #[test]
    fn every_unit_without_a_true_zero_has_its_own_mend() {
        for unit in super::super::UNITS.iter().filter(|unit| !unit.has_true_zero()) {
            let mend = find_unit(zero_based(unit.symbol)).unwrap();
            assert_eq!(mend.factor, unit.factor.abs(), "{}", unit.symbol);
        }
    }

    #[test]
    fn sizes_are_bounded() {
        assert_eq!(parse_unit(&"m ".repeat(17)), Err(UnitError::TooLong));
        assert_eq!(parse_unit(&"m".repeat(201)), Err(UnitError::TooLong));
        let far = UnitExpression::product(&[(find_unit("m3").unwrap(), 9); 16]);
        assert_eq!(far, Err(UnitError::TooLong));
    }
}
