//! Readings as they may be written, for messages, in the unit that somebody reads.

use crate::quantity::{QuantityKind, UnitExpression, parse_unit, show_rounded};

/// Readings of a usual hold in Pa: 420, 455 and 480 micron.
const READINGS: [f64; 3] = [56.0, 60.66, 64.0];
/// Their digits, as a share: those of a gauge (`estimate`: it shows three).
const DIGITS: f64 = 0.005;

/// One reading, such as `420 micron`, in a unit; in micron where none is named.
pub(super) fn example(unit: Option<&UnitExpression>) -> String {
    in_unit(READINGS[0], unit)
}

/// The symbol of the unit of examples.
pub(super) fn example_unit(unit: Option<&UnitExpression>) -> &str {
    unit.map_or("micron", |unit| &unit.symbol)
}

/// Two rows as readings are typed, each behind its time.
///
/// ```
/// use dryhold::quantity::parse_unit;
/// use dryhold::series::example_rows;
/// assert_eq!(example_rows(None), ["0 min 420 micron", "5 min 455 micron"]);
/// assert_eq!(example_rows(parse_unit("Pa").ok().as_ref())[1], "5 min 60.7 Pa");
/// ```
#[must_use]
pub fn example_rows(unit: Option<&UnitExpression>) -> [String; 2] {
    let row = |minute: u32, reading: f64| format!("{minute} min {}", in_unit(reading, unit));
    [row(0, READINGS[0]), row(5, READINGS[1])]
}

/// Readings in one line, with how far apart they are.
///
/// ```
/// use dryhold::series::example_line;
/// assert_eq!(example_line(None), "420 micron, 455 micron, 480 micron every 5 min");
/// ```
#[must_use]
pub fn example_line(unit: Option<&UnitExpression>) -> String {
    format!("{} every 5 min", READINGS.map(|reading| in_unit(reading, unit)).join(", "))
}

fn in_unit(reading: f64, unit: Option<&UnitExpression>) -> String {
    let micron = || parse_unit("micron").ok();
    let shown = |unit: &UnitExpression| {
        show_rounded(reading, Some(DIGITS * reading), unit, QuantityKind::PRESSURE)
    };
    unit.cloned().or_else(micron).map_or_else(String::new, |unit| shown(&unit))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::series::{Given, read_pasted};

    #[test]
    fn what_is_shown_is_read_as_it_says() {
        for symbol in ["micron", "Pa", "hPa", "mbar", "Torr", "mTorr"] {
            let unit = parse_unit(symbol).unwrap();
            for text in [example_rows(Some(&unit)).join("\n"), example_line(Some(&unit))] {
                let readings = read_pasted(&text, &Given::default()).unwrap();
                assert_eq!(readings.times()[..2], [0.0, 300.0], "{text}");
                for (read, shown) in readings.pressures().iter().zip(READINGS) {
                    assert!((read / shown - 1.0).abs() < DIGITS, "{text}: {read}");
                }
            }
        }
    }
}
