//! One reading as it is kept: a row of the log.

use jiff::Timestamp;

use crate::quantity::UnitExpression;
use crate::series::Beyond;

/// The first line of a log, by which it is known again.
pub(super) const FIRST_LINE: &str =
    "# dryhold watch, format 1: readings of a hold test, one a line as they came";
/// Before the moment that elapsed times are counted from.
const COUNTED_FROM: &str = "# counted from ";
/// Before a row: a blank that becomes [`TAKEN_BACK`] by one written byte, so that nothing else
/// moves.
pub(super) const KEPT: char = ' ';
/// Before a row that was taken back: a comment for whoever reads the log.
pub(super) const TAKEN_BACK: char = '#';

/// A reading with its moment.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Entry {
    /// When it was taken.
    pub at: Timestamp,
    /// Absolute pressure in Pa, or the end of the scale that the gauge was beyond.
    pub pressure: Result<f64, Beyond>,
    /// The pressure as the log's column has it.
    pub cell: String,
    /// The moment that elapsed times are counted from, beside the first reading.
    pub counted_from: Option<Timestamp>,
}

impl Entry {
    /// The row of the log, and what stands before it.
    pub fn lines(&self) -> String {
        let before = self.counted_from.map(|at| format!("{COUNTED_FROM}{at}\n"));
        format!("{}{}\n", before.unwrap_or_default(), self.row())
    }

    fn row(&self) -> String {
        format!("{KEPT}{},{}", self.at, self.cell)
    }
}

/// What stands above the rows: bare numbers are pressures in `unit`.
pub(super) fn heading(unit: &UnitExpression) -> String {
    format!("{FIRST_LINE}\ntime,pressure [{}]\n", unit.symbol)
}

/// The unit of a log's heading.
pub(super) fn unit_of_heading(line: &str) -> Option<&str> {
    line.strip_prefix("time,pressure [")?.strip_suffix(']')
}

/// The moment of a line that tells what elapsed times are counted from.
pub(super) fn counted_from(line: &str) -> Option<Timestamp> {
    line.strip_prefix(COUNTED_FROM)?.parse().ok()
}

/// The cell of a pressure in Pa: the number in the column's unit, and its unit beside it where it
/// was not read in it, so that its digits say nothing of the gauge's display.
pub(super) fn cell(pressure: Result<f64, Beyond>, unit: &UnitExpression, is_bare: bool) -> String {
    match pressure {
        Ok(pascals) => {
            let number = rounded(unit.from_si(pascals));
            if is_bare { number.to_string() } else { format!("{number} {}", unit.symbol) }
        }
        Err(Beyond::Over) => "OL".to_owned(),
        Err(Beyond::Under) => "UL".to_owned(),
    }
}

/// Seven significant digits: more than a gauge shows, fewer than a conversion leaves behind.
fn rounded(number: f64) -> f64 {
    format!("{number:.6e}").parse().unwrap_or(number)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{QuantityKind, parse_unit, units_by_kind};
    use crate::series::{Given, read_log};

    fn at(second: u32) -> Timestamp {
        format!("2026-11-25T10:05:{second:02}.25Z").parse().unwrap()
    }

    #[test]
    fn a_log_is_read_back_by_the_reader_of_logs() {
        let micron = parse_unit("micron").unwrap();
        let entry = |second, pressure, is_bare| Entry {
            at: at(second),
            pressure,
            cell: cell(pressure, &micron, is_bare),
            counted_from: (second == 0).then(|| at(0)),
        };
        let mut log = heading(&micron);
        log += &entry(0, Ok(micron.to_si(300.0)), true).lines();
        log += &entry(10, Ok(50.0), false).lines();
        log += &entry(20, Err(Beyond::Over), true).lines();
        log += &entry(30, Ok(micron.to_si(999.0)), true).lines().replacen(KEPT, "#", 1);
        log += &entry(40, Ok(micron.to_si(420.0)), true).lines();
        log += &entry(50, Ok(micron.to_si(510.0)), true).lines();
        let readings = read_log(log.as_bytes(), &Given::default()).unwrap();
        assert_eq!(readings.times(), [0.0, 10.0, 40.0, 50.0], "{log}");
        assert!((readings.pressures()[1] - 50.0).abs() < 1e-3);
        assert_eq!(readings.marks().len(), 1);
        assert!((readings.resolution().unwrap() / micron.to_si(10.0) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn every_unit_of_absolute_pressure_can_head_a_log() {
        let mut units = 0;
        for (kind, names) in units_by_kind() {
            for unit in names.iter().filter(|_| kind.kind == QuantityKind::PRESSURE) {
                let unit = parse_unit(unit.symbol).unwrap();
                let rows = "2026-11-25T10:05:00Z,3\n 2026-11-25T10:06:00Z,4\n";
                let log = heading(&unit) + rows;
                let heading = log.lines().nth(1).unwrap();
                assert_eq!(unit_of_heading(heading), Some(unit.symbol.as_str()));
                if unit.symbol != "inHg" {
                    read_log(log.as_bytes(), &Given::default()).unwrap();
                    units += 1;
                }
            }
        }
        assert!(units > 5, "only {units}");
    }
}
