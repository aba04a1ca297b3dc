//! Readings as a table that can be read again.

use std::fmt::Write as _;

use super::readings::{Beyond, Readings};
use super::times::stamp_of;
use crate::quantity::UnitExpression;

/// Writes `time_s`, `pressure_pa` and the pressure in the reader's unit, a row a reading;
/// rows off the scale come as `OL` and `UL`, or with the end of the scale. Numbers of the first two
/// columns have all their digits, so [`read_log`](super::read_log) gives the same times and
/// pressures again; the third is for people and has seven digits at most.
///
/// ```
/// use dryhold::quantity::parse_unit;
/// use dryhold::series::{Readings, write_csv};
/// let readings = Readings::new(&[0.0, 60.0], &[40.0, 44.0]).unwrap();
/// let table = write_csv(&readings, &parse_unit("mbar").unwrap());
/// assert_eq!(table, "time_s,pressure_pa,pressure_mbar\n0,40,0.4\n60,44,0.44\n");
/// ```
#[must_use]
pub fn write_csv(readings: &Readings, unit: &UnitExpression) -> String {
    let mut table = String::new();
    if let Some(stamp) = readings.start().and_then(|start| stamp_of(start, 0.0)) {
        let _ = writeln!(table, "# first reading at {stamp}");
    }
    let people = is_other(unit).then(|| format!(",pressure_{}", unit.symbol.replace(' ', "_")));
    let _ = writeln!(table, "time_s,pressure_pa{}", people.unwrap_or_default());
    for (time, cells) in rows(readings, unit) {
        let _ = writeln!(table, "{time},{cells}");
    }
    table
}

/// Whether the reader's unit is another than that of the column in SI units.
fn is_other(unit: &UnitExpression) -> bool {
    unit.symbol != "Pa"
}

/// Readings and marks in the order of time.
fn rows(readings: &Readings, unit: &UnitExpression) -> Vec<(f64, String)> {
    let both = |sign: &str, pascals: f64| {
        let first = format!("{sign}{pascals}");
        let people = is_other(unit).then(|| format!(",{sign}{}", rounded(unit.from_si(pascals))));
        first + &people.unwrap_or_default()
    };
    let pairs = readings.times().iter().zip(readings.pressures());
    let mut rows: Vec<(f64, String)> =
        pairs.map(|(&time, &pressure)| (time, both("", pressure))).collect();
    rows.extend(readings.marks().iter().map(|mark| {
        let (sign, word) = match mark.beyond {
            Beyond::Over => (">", "OL"),
            Beyond::Under => ("<", "UL"),
        };
        let twice = if is_other(unit) { format!("{word},{word}") } else { word.to_owned() };
        (mark.time_s, mark.limit_pa.map_or(twice, |limit| both(sign, limit)))
    }));
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    rows
}

/// Seven significant digits, without zeros at the end.
fn rounded(number: f64) -> f64 {
    format!("{number:.6e}").parse().unwrap_or(number)
}
