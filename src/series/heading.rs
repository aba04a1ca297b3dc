//! Which column is the time and which the pressure, and in which units.

use super::times::{TimeForm, is_a_clock, read_date};
use crate::quantity::{Dimension, QuantityKind, UnitExpression, parse_prompt_unit};

/// Names of a column of times, in lower case.
const TIMES: &[&str] = &[
    "t",
    "time",
    "times",
    "elapsed",
    "elapsed time",
    "duration",
    "timestamp",
    "time stamp",
    "stamp",
    "datetime",
    "date time",
    "date and time",
    "date/time",
    "clock",
    "time of day",
];
/// Those of them that count from the start of the test.
const ELAPSED: &[&str] = &["elapsed", "elapsed time", "duration"];
/// Names of a column of pressures, in lower case.
const PRESSURES: &[&str] = &[
    "p",
    "pressure",
    "vacuum",
    "press",
    "reading",
    "readings",
    "gauge",
    "gauge reading",
    "absolute pressure",
    "abs pressure",
    "vacuum level",
    "vacuum reading",
    "pressure reading",
    "value",
    "level",
];

/// Names that tell a column also beside other words.
const TELLING: &[&str] = &["time", "elapsed", "timestamp", "pressure", "vacuum"];
/// Units of one letter that name a column of times on their own.
const LONE: &[&str] = &["s", "h"];

/// What is known of the columns before the first row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Given {
    /// How the numbers of the time column are to be read; goes before what the heading says.
    pub time_unit: Option<TimeForm>,
    /// The unit of bare pressures; goes before what the heading says.
    pub pressure_unit: Option<UnitExpression>,
    /// The heading of the column of times, where the log has several.
    pub time_column: Option<String>,
    /// The heading of the column of pressures, where the log has several.
    pub pressure_column: Option<String>,
    /// The unit that messages give their examples in, which is no unit of the log.
    pub shown_in: Option<UnitExpression>,
}

/// Where the columns are and what they hold.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Columns {
    pub time: usize,
    pub date: Option<usize>,
    pub pressure: usize,
    /// How many there are.
    pub cells: usize,
    pub time_unit: Option<TimeForm>,
    pub pressure_unit: Option<UnitExpression>,
    pub is_elapsed: bool,
}

/// Why a heading does not tell the columns.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum HeadingFault {
    /// It is none: no name of a time and a pressure in it.
    None,
    /// Several columns could be the pressure or the time.
    Several(&'static str, Vec<String>),
    /// A unit that the column can't have; the cell and the reason.
    Unit(String, String),
}

/// What one cell of a heading is.
#[derive(Clone, Debug, Default)]
struct Column {
    name: String,
    time: Option<TimeForm>,
    pressure: Option<UnitExpression>,
    /// A unit that was written and that is neither.
    odd_unit: Option<String>,
}

impl Column {
    fn read(cell: &str) -> Self {
        let lower = cell.trim().to_lowercase();
        let (name, unit) = split_unit(cell.trim());
        let name = name.replace(['_', '-', '.', ':'], " ").trim().to_lowercase();
        let mut column = Self { name, ..Self::default() };
        if TIMES.contains(&&*lower) || PRESSURES.contains(&&*lower) {
            column.name = lower;
            return column;
        }
        let Some(unit) = unit else { return column };
        if column.is_called(TIMES) || column.name == "date" {
            column.time = TimeForm::parse(&unit);
        } else if !column.name.is_empty() || unit.len() > 1 || LONE.contains(&&*unit) {
            column.pressure = pressure_unit(&unit);
            if column.pressure.is_none() && !column.is_called(PRESSURES) {
                column.time = TimeForm::parse(&unit);
            }
        }
        column.odd_unit = (column.time.is_none() && column.pressure.is_none()).then_some(unit);
        column
    }

    fn is_time(&self) -> bool {
        self.time.is_some() || self.is_called(TIMES)
    }

    fn is_pressure(&self) -> bool {
        self.pressure.is_some() || self.is_called(PRESSURES)
    }

    /// Whether it has one of the names, or a word of it says as much: `CH1 pressure`.
    fn is_called(&self, names: &[&str]) -> bool {
        let says = |word: &str| word.len() > 3 && TELLING.contains(&word) && names.contains(&word);
        let is_said = self.name.split(' ').any(says) && !self.name.contains("unit");
        names.contains(&&*self.name) || is_said
    }
}

/// A unit of pressure of any nature; the caller refuses gauge pressure.
fn pressure_unit(text: &str) -> Option<UnitExpression> {
    let unit = parse_prompt_unit(text, QuantityKind::PRESSURE).ok()?;
    (unit.kind.dimension == Dimension::PRESSURE).then_some(unit)
}

/// `Time (s)`, `p [Pa]`, `pressure / mbar`, `pressure in Pa`, `time_min`, `micron`.
fn split_unit(cell: &str) -> (String, Option<String>) {
    for (open, close) in [('(', ')'), ('[', ']'), ('{', '}')] {
        if let Some((name, rest)) = cell.split_once(open)
            && let Some((unit, _)) = rest.rsplit_once(close)
        {
            return (name.to_owned(), Some(unit.trim().to_owned()));
        }
    }
    for sign in [" / ", ", ", ": ", " in "] {
        if let Some((name, unit)) = cell.split_once(sign) {
            return (name.to_owned(), Some(unit.trim().to_owned()));
        }
    }
    let is_unit = |text: &str| TimeForm::parse(text).is_some() || pressure_unit(text).is_some();
    let borders = cell.match_indices(['_', ' ', '.', '-', '/']);
    for (at, _) in borders {
        let (name, unit) = (&cell[..at], &cell[at + 1..]);
        if is_unit(unit) {
            return (name.to_owned(), Some(unit.to_owned()));
        }
    }
    if is_unit(cell) {
        return (String::new(), Some(cell.to_owned()));
    }
    (cell.to_owned(), None)
}

impl Columns {
    /// The columns of a heading, read cell by cell.
    pub fn of_heading(cells: &[String], given: &Given) -> Result<Self, HeadingFault> {
        let read: Vec<Column> = cells.iter().map(|cell| Column::read(cell)).collect();
        let pressure = pick_pressure(cells, &read, given)?;
        let (time, date) = match pick("time", cells, given.time_column.as_deref(), |i| {
            read[i].is_time() && i != pressure
        }) {
            Ok(time) => (time, read.iter().position(|column| column.name == "date")),
            Err(HeadingFault::None) => {
                let date = read.iter().position(|column| column.name == "date");
                (date.ok_or(HeadingFault::None)?, None)
            }
            Err(HeadingFault::Several(what, names)) => {
                // Of several times the one that counts from the start, in a unit, is plainest.
                let with_unit: Vec<usize> =
                    (0..read.len()).filter(|&i| read[i].time.is_some() && i != pressure).collect();
                match with_unit[..] {
                    [only] => (only, None),
                    _ => return Err(HeadingFault::Several(what, names)),
                }
            }
            Err(other) => return Err(other),
        };
        for (i, given) in
            [(time, given.time_unit.is_some()), (pressure, given.pressure_unit.is_some())]
        {
            if let (Some(unit), false) = (&read[i].odd_unit, given) {
                return Err(HeadingFault::Unit(
                    cells[i].clone(),
                    format!("`{unit}` is no unit of it"),
                ));
            }
        }
        let date = date.filter(|_| read[time].time.is_none() && given.time_unit.is_none());
        Ok(Self {
            time,
            date,
            pressure,
            cells: cells.len(),
            time_unit: given.time_unit.clone().or_else(|| read[time].time.clone()),
            pressure_unit: given.pressure_unit.clone().or_else(|| read[pressure].pressure.clone()),
            is_elapsed: ELAPSED.contains(&&*read[time].name),
        })
    }

    /// The columns of rows without a heading: a time and a pressure, or a date before them.
    pub fn without_heading(cells: &[String], given: &Given) -> Option<Self> {
        let (time, date) = match cells {
            [_, _] => (0, None),
            [date, time, _] if read_date(date).is_some() && is_a_clock(time) => (1, Some(0)),
            _ => return None,
        };
        Some(Self {
            time,
            date,
            pressure: time + 1,
            cells: cells.len(),
            time_unit: given.time_unit.clone(),
            pressure_unit: given.pressure_unit.clone(),
            is_elapsed: false,
        })
    }

    /// Takes the units of a second line of the heading; false where it is none.
    pub fn take_units(&mut self, cells: &[String]) -> bool {
        let bare = |i: usize| {
            cells.get(i).map(|cell| cell.trim_matches(['(', ')', '[', ']', ' '])).unwrap_or("")
        };
        let (time, pressure) =
            (TimeForm::parse(bare(self.time)), pressure_unit(bare(self.pressure)));
        let is_units = pressure.is_some() && (time.is_some() || bare(self.time).is_empty());
        if is_units {
            self.time_unit = self.time_unit.take().or(time);
            self.pressure_unit = self.pressure_unit.take().or(pressure);
        }
        is_units
    }
}

/// The column of pressures; of one pressure in several units the first.
fn pick_pressure(cells: &[String], read: &[Column], given: &Given) -> Result<usize, HeadingFault> {
    let named = given.pressure_column.as_deref();
    let picked = pick("pressure", cells, named, |i| read[i].is_pressure());
    let Err(HeadingFault::Several(..)) = &picked else { return picked };
    let fitting: Vec<usize> = (0..read.len()).filter(|&i| read[i].is_pressure()).collect();
    let first = &read[fitting[0]];
    let is_one = fitting[1..].iter().all(|&i| {
        read[i].name == first.name
            && read[i].pressure.is_some()
            && read[i].pressure != first.pressure
    });
    if is_one && first.pressure.is_some() { Ok(fitting[0]) } else { picked }
}

/// The one column that fits, or the one that was named.
fn pick(
    what: &'static str,
    cells: &[String],
    named: Option<&str>,
    fits: impl Fn(usize) -> bool,
) -> Result<usize, HeadingFault> {
    if let Some(named) = named {
        let is_named = |cell: &&String| cell.trim().eq_ignore_ascii_case(named.trim());
        return cells.iter().position(|cell| is_named(&cell)).ok_or(HeadingFault::None);
    }
    let fitting: Vec<usize> = (0..cells.len()).filter(|&i| fits(i)).collect();
    match fitting[..] {
        [] => Err(HeadingFault::None),
        [only] => Ok(only),
        _ => Err(HeadingFault::Several(what, fitting.iter().map(|&i| cells[i].clone()).collect())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn columns(cells: &[&str]) -> Result<Columns, HeadingFault> {
        let cells: Vec<String> = cells.iter().map(|&cell| cell.to_owned()).collect();
        Columns::of_heading(&cells, &Given::default())
    }

    fn symbols(cells: &[&str]) -> (usize, Option<String>, usize, Option<String>) {
        let read = columns(cells).unwrap();
        let time = match read.time_unit {
            Some(TimeForm::Unit(unit)) => Some(unit.symbol),
            Some(form) => Some(format!("{form:?}")),
            None => None,
        };
        (read.time, time, read.pressure, read.pressure_unit.map(|unit| unit.symbol))
    }

    #[test]
    fn headings_of_many_spellings_tell_their_units() {
        for (cells, time, pressure) in [
            (["time_min", "pressure_micron"], "min", "micron"),
            (["Time (s)", "p [Pa]"], "s", "Pa"),
            (["t in minutes", "Vacuum, microns"], "min", "micron"),
            (["elapsed / h", "pressure / mbar"], "h", "mbar"),
            (["min", "micron"], "min", "micron"),
            (["Elapsed [mm:ss]", "P (um)"], "MinutesSeconds", "micron"),
            (["Time-sec", "Pressure mm Hg"], "s", "mmHg"),
            (["s", "Pa"], "s", "Pa"),
            (["Run time (h)", "CH1 pressure (mTorr)"], "h", "mTorr"),
        ] {
            let expected = (0, Some(time.to_owned()), 1, Some(pressure.to_owned()));
            assert_eq!(symbols(&cells), expected, "{cells:?}");
        }
    }

    #[test]
    fn other_columns_are_passed_over() {
        let read = symbols(&["No", "Temp (degC)", "Pressure (Pa)", "Time (s)"]);
        assert_eq!(read, (3, Some("s".to_owned()), 2, Some("Pa".to_owned())));
        let read = columns(&["Date", "Time", "Pressure (Pa)"]).unwrap();
        assert_eq!((read.date, read.time, read.pressure), (Some(0), 1, 2));
        let read = columns(&["timestamp", "elapsed_s", "Pressure (Pa)"]).unwrap();
        assert_eq!((read.date, read.time), (None, 1));
    }

    #[test]
    fn two_pressures_are_not_chosen_between() {
        let fault = columns(&["t (s)", "p1 (Pa)", "p2 (Pa)"]).unwrap_err();
        assert!(matches!(fault, HeadingFault::Several("pressure", _)));
        assert_eq!(columns(&["a", "b"]).unwrap_err(), HeadingFault::None);
        assert!(matches!(columns(&["t (s)", "p (L)"]).unwrap_err(), HeadingFault::Unit(..)));
    }
}
