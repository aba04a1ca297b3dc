//! How fast a pressure rises, as people say it: `60 micron in 10 min`, `5 micron a minute`.

use super::product::parse_unit;
use super::several::rise_between;
use super::typed::{Bound, Typed, read_typed};
use super::{Dimension, Expected, Misread, QuantityKind, UnitExpression, show};

/// Words between what rose and the time that it took.
const IN_A_TIME: [&str; 7] =
    [" in ", " within ", " over ", " during ", " per ", " each ", " every "];
/// Articles that belong to the time.
const ARTICLES: [&str; 2] = [" a ", " an "];

/// What rose and in how long, as a rate; none where the text is no such thing, or none is asked
/// for.
pub(super) fn rise_in_time(text: &str, expected: &Expected) -> Option<Typed> {
    if expected.kind.dimension != Dimension::RISE_RATE {
        return None;
    }
    let lower = text.to_lowercase();
    let behind = IN_A_TIME.iter().filter_map(|word| Some((lower.find(word)?, word.len())));
    // The article stays with its unit.
    let before = ARTICLES.iter().filter_map(|word| Some((lower.find(word)?, 1)));
    let (cut, length) = behind.chain(before).min_by_key(|(place, _)| *place)?;
    let (rise, time) = (text.get(..cut)?, text.get(cut + length..)?);
    let between = rise_between(rise);
    let rise = risen(between.as_deref().unwrap_or(rise), &expected.unit)?;
    let time = time_of(time)?;
    let value = rise.value / time.value;
    let unit = expected.unit.clone();
    let rate = show(value, None, &unit, expected.kind);
    let echo = format!("{} in {} ({rate})", rise.echo, time.echo);
    value.is_finite().then_some(Typed {
        value,
        half_width: None,
        bound: Bound::Exact,
        unit,
        is_bare: false,
        echo,
    })
}

/// A time longer than none, with its unit; `minute` alone is one minute.
fn time_of(text: &str) -> Option<Typed> {
    let minutes = Expected::new(QuantityKind::TIME, parse_unit("min").ok()?);
    let whole = format!("1 {text}");
    let read = read_typed(text, &minutes).or_else(|_| read_typed(&whole, &minutes)).ok()?;
    let read = Typed { echo: without_conversion(&read), ..read };
    (read.value > 0.0 && !read.is_bare && read.bound == Bound::Exact).then_some(read)
}

/// A pressure without a time where a rate is asked for, told with what to type instead.
pub(super) fn without_a_time(text: &str, expected: &Expected) -> Option<Misread> {
    if expected.kind.dimension != Dimension::RISE_RATE {
        return None;
    }
    let typed = risen(text, &expected.unit).filter(|typed| !typed.is_bare)?;
    Some(Misread::NoTime { value: typed.echo })
}

/// The pressure in a rate's unit: the micron of `micron/min`; none where it is written otherwise.
#[must_use]
pub fn pressure_of_rate(rate: &UnitExpression) -> Option<UnitExpression> {
    let unit = parse_unit(rate.symbol.split('/').next()?).ok()?;
    (unit.kind.dimension == Dimension::PRESSURE).then_some(unit)
}

/// What rose, in the pressure unit of the rate if no other is typed.
fn risen(text: &str, rate: &UnitExpression) -> Option<Typed> {
    let unit = pressure_of_rate(rate).or_else(|| parse_unit("micron").ok())?;
    let wanted =
        Expected { told_in: None, ..Expected::new(QuantityKind::PRESSURE_DIFFERENCE, unit) };
    let read = read_typed(text, &wanted).ok()?;
    let typed = Typed { echo: without_conversion(&read), ..read };
    (typed.bound == Bound::Exact && typed.half_width.is_none()).then_some(typed)
}

/// A part as it was typed: the rate behind both is told in the unit that is asked for.
fn without_conversion(part: &Typed) -> String {
    part.echo.split(" (").next().unwrap_or_default().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rate(text: &str) -> Result<(f64, String), String> {
        let expected = Expected::new(QuantityKind::RISE_RATE, parse_unit("micron/min").unwrap());
        let read = read_typed(text, &expected).map_err(|misread| misread.to_string())?;
        let rounded = (expected.unit.from_si(read.value) * 1e6).round() / 1e6;
        Ok((rounded, read.echo))
    }

    #[test]
    fn what_rose_in_how_long_is_a_rate() {
        for (text, value, echo) in [
            ("60 micron in 10 min", 6.0, "60 micron in 10 min (6 micron/min)"),
            ("60 in 10 min", 6.0, "60 micron in 10 min (6 micron/min)"),
            ("60 micron over half an hour", 2.0, "60 micron in 0.5 h (2 micron/min)"),
            ("5 micron a minute", 5.0, "5 micron in 1 min (5 micron/min)"),
            ("120 micron an hour", 2.0, "120 micron in 1 h (2 micron/min)"),
            ("12 microns every 4 minutes", 3.0, "12 micron in 4 min (3 micron/min)"),
            ("0.3 mbar in 1 h 15 min", 3.000_246, "0.3 mbar in 1 h 15 min (3 micron/min)"),
            ("5 micron per minute", 5.0, "5 micron/min"),
            ("400 to 450 micron in 10 min", 5.0, "50 micron in 10 min (5 micron/min)"),
            ("400 450 in 10 min", 5.0, "50 micron in 10 min (5 micron/min)"),
            ("0.2 mbar then 0.5 mbar over 1 h", 3.750_308, "0.3 mbar in 1 h (3.75 micron/min)"),
        ] {
            assert_eq!(rate(text), Ok((value, echo.to_owned())), "{text}");
        }
    }

    #[test]
    fn a_pressure_alone_is_no_rate_and_says_how_to_type_one() {
        let told = rate("120 micron").unwrap_err();
        assert_eq!(
            told,
            "`120 micron` is where it stands, and how fast it rises is asked for; type what it rose \
             in how long, such as `60 micron in 10 min`, or a rate such as `6 micron/min`"
        );
        for text in [
            "450 to 400 micron in 10 min",
            "60 micron in 10",
            "60 micron in 0 min",
            "60 micron in",
            "10 min",
            "in 10 min",
        ] {
            let told = rate(text).unwrap_err();
            assert!(!told.contains("where it stands"), "{text}: {told}");
        }
    }
}
