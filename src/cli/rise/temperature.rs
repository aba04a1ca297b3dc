//! By how much a system became warmer during a hold, as it is typed.

use anyhow::{Result, bail};

use super::wanted::typed;
use crate::quantity::QuantityKind;
use crate::rise::OF_HALF_WIDTH;
use crate::rise::Surroundings;

pub(super) const OPTION: &str = "--temperature";
/// A larger change in K is taken for a temperature (limit of ours).
const LARGEST: f64 = 60.0;

/// A change such as `2 K` or `-1 +- 0.5 K`, or two readings such as `20 degC to 22 degC`: the
/// change in K and its standard deviation, which stays the usual one where none was typed.
pub(super) fn change(text: &str) -> Result<(f64, f64)> {
    let usual = Surroundings::default().drift;
    if let Some((from, to)) = text.split_once(" to ") {
        let (from, to) = (with_unit_of(from, to), with_unit_of(to, from));
        let from = typed(OPTION, &from, QuantityKind::TEMPERATURE, "degC")?;
        let to = typed(OPTION, &to, QuantityKind::TEMPERATURE, "degC")?;
        let doubts = [from.half_width, to.half_width].map(|half| half.unwrap_or(0.0));
        let doubt = libm::hypot(doubts[0], doubts[1]) * OF_HALF_WIDTH;
        let is_doubted = from.half_width.is_some() || to.half_width.is_some();
        let change = to.value - from.value;
        return checked(text, change, if is_doubted { doubt } else { usual });
    }
    let is_bare = !text.contains(char::is_alphabetic);
    let is_absolute = !text.contains("diff") && text.contains(['C', 'F', '°', 'd']);
    if is_bare || is_absolute {
        return refused(text);
    }
    let read = typed(OPTION, text, QuantityKind::TEMPERATURE_DIFFERENCE, "K")?;
    let doubt = read.half_width.map_or(usual, |half| half * OF_HALF_WIDTH);
    checked(text, read.value, doubt)
}

fn checked(text: &str, change: f64, doubt: f64) -> Result<(f64, f64)> {
    if change.abs() > LARGEST { refused(text) } else { Ok((change, doubt)) }
}

fn refused(text: &str) -> Result<(f64, f64)> {
    bail!(
        "{OPTION} {text}: give the change during the hold, such as `2 K` or `-1 +- 0.5 K`, or the \
         temperature at its begin and at its end, such as `20 degC to 22 degC` or `68 to 72 degF`"
    )
}

/// Whether it is two readings, neither of which has a unit.
pub(super) fn is_bare(text: &str) -> bool {
    text.split_once(" to ").is_some_and(|(from, to)| !has_unit(from) && !has_unit(to))
}

fn has_unit(reading: &str) -> bool {
    reading.contains(char::is_alphabetic)
}

/// One of two readings takes the unit of the other if it has none.
fn with_unit_of(reading: &str, other: &str) -> String {
    let unit = other.trim().trim_start_matches(|c: char| !c.is_alphabetic() && c != '°');
    if has_unit(reading) { reading.to_owned() } else { format!("{reading} {unit}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(text: &str, change_is: f64, doubt_is: f64) {
        let (found, doubt) = change(text).unwrap();
        assert!((found - change_is).abs() < 1e-9, "{text}: {found}");
        assert!((doubt - doubt_is).abs() < 1e-9, "{text}: {doubt}");
    }

    #[test]
    fn a_change_or_two_readings_are_taken() {
        near("2 K", 2.0, 0.5);
        near("-1 +- 0.5 K", -1.0, 0.5 * OF_HALF_WIDTH);
        near("9 degF_diff", 5.0, 0.5);
        near("20 degC to 22 degC", 2.0, 0.5);
        near("68 to 77 degF", 5.0, 0.5);
        near("68 degF to 77", 5.0, 0.5);
        near("20 to 22", 2.0, 0.5);
        near("20 +- 0.3 degC to 19 +- 0.4 degC", -1.0, 0.5 * OF_HALF_WIDTH);
    }

    #[test]
    fn one_temperature_is_no_change() {
        for text in ["20 degC", "68 °F", "20", "300 K", "20 C"] {
            let refused = change(text).unwrap_err().to_string();
            assert!(refused.contains("`20 degC to 22 degC`"), "{text}: {refused}");
        }
    }
}
