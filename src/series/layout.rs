//! How a log is laid out, told from its first rows.

use super::heading::{Columns, HeadingFault};
use super::log::{check_unit, parted_number};
use super::rows::Delimiter;
use super::{Given, LogFault};
use crate::diagnostic::Code;
use crate::quantity::{QuantityKind, UnitExpression};
use crate::text::{inert, list_and, list_or};

/// What parts the cells, what the columns hold, and where the rows begin.
pub(super) struct Layout {
    pub delimiter: Delimiter,
    pub columns: Columns,
    /// How many rows of the sample stand above the first row of readings.
    pub first_row: usize,
    /// The lines of the heading itself.
    pub heading_lines: Vec<u64>,
}

type Sample<'a> = &'a [(u64, Vec<u8>)];

impl Layout {
    pub fn of(sample: Sample<'_>, given: &Given) -> Result<Self, LogFault> {
        let Some((line, text)) = sample.first() else {
            return Err(LogFault::new(Code::LogTooShort, "no reading in the log")
                .note("a rise needs two readings at least"));
        };
        // Lines above the heading need not have the delimiter of the rows below it.
        let delimiter = Delimiter::of(&sample[sample.len() / 2..]);
        let mut first_fault = None;
        for (at, (line, text)) in sample.iter().enumerate() {
            match Columns::of_heading(&cells_of(delimiter, text), given) {
                Ok(columns) => return Self::with_heading(delimiter, columns, sample, at),
                Err(HeadingFault::None) => {}
                Err(fault) => first_fault = first_fault.or(Some((fault, *line, text))),
            }
        }
        if let Some((fault, line, text)) = first_fault {
            return Err(heading_fault(fault, line, text));
        }
        let cells = cells_of(delimiter, text);
        if cells.iter().all(|cell| !starts_like_a_value(cell)) {
            return Err(unnamed(&cells, *line, text));
        }
        let Some(columns) = Columns::without_heading(&cells, given) else {
            return Err(not_two(delimiter, &cells, *line, text));
        };
        check_unit(&columns, *line, text)?;
        Ok(Self { delimiter, columns, first_row: 0, heading_lines: Vec::new() })
    }

    fn with_heading(
        delimiter: Delimiter,
        mut columns: Columns,
        sample: Sample<'_>,
        at: usize,
    ) -> Result<Self, LogFault> {
        let (line, text) = &sample[at];
        let mut heading_lines = vec![*line];
        let mut first_row = at + 1;
        if let Some((below, units)) = sample.get(first_row)
            && columns.take_units(&cells_of(delimiter, units))
        {
            heading_lines.push(*below);
            first_row += 1;
        }
        check_unit(&columns, *line, text)?;
        Ok(Self { delimiter, columns, first_row, heading_lines })
    }
}

/// The cells of a line as texts; in a heading a unit in brackets belongs to the word before it.
fn cells_of(delimiter: Delimiter, line: &[u8]) -> Vec<String> {
    let mut ranges = Vec::new();
    delimiter.split(line, &mut ranges);
    let mut cells: Vec<String> = Vec::new();
    for range in ranges {
        let cell = String::from_utf8_lossy(&line[range]).into_owned();
        match cells.last_mut() {
            Some(last) if delimiter == Delimiter::Blanks && cell.starts_with(['(', '[']) => {
                last.push(' ');
                last.push_str(&cell);
            }
            _ => cells.push(cell),
        }
    }
    cells
}

fn starts_like_a_value(cell: &str) -> bool {
    cell.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.' | '>' | '<'))
}

/// Refuses a unit that counts from the barometer, or that may count either way.
pub(super) fn refuse_unit(unit: &UnitExpression, line: u64, text: &[u8]) -> Result<(), LogFault> {
    let why = if unit.kind == QuantityKind::GAUGE_PRESSURE {
        "it counts from the pressure of the air, and a rise needs absolute pressure"
    } else if unit.symbol == "inHg" {
        "it may count up from nothing or down from the pressure of the air"
    } else {
        return Ok(());
    };
    let title = format!("`{}` can't be the unit of the pressure", unit.symbol);
    let fault = LogFault::new(Code::LogUnit, title).at(line, text, b"", "the column of pressures");
    Err(fault.note(why))
}

fn heading_fault(fault: HeadingFault, line: u64, text: &[u8]) -> LogFault {
    match fault {
        HeadingFault::Several(what, names) => {
            let shown: Vec<String> =
                names.iter().map(|name| format!("`{}`", inert(name))).collect();
            let title = format!("several columns could be the {what}");
            LogFault::new(Code::LogColumns, title)
                .at(line, text, b"", &format!("{} are", list_and(&shown)))
                .help(format!("leave one of them in the log: {}", list_or(&shown)))
        }
        HeadingFault::Unit(cell, why) => {
            let title = format!("the unit of `{}` can't be read", inert(&cell));
            LogFault::new(Code::LogUnit, title).at(line, text, cell.as_bytes(), &inert(&why))
        }
        HeadingFault::None => LogFault::new(Code::LogColumns, "no heading").at(line, text, b"", ""),
    }
}

fn unnamed(cells: &[String], line: u64, text: &[u8]) -> LogFault {
    let title = "no columns of time and pressure are named";
    let shown: Vec<String> = cells.iter().map(|cell| format!("`{}`", inert(cell))).collect();
    LogFault::new(Code::LogColumns, title)
        .at(line, text, b"", "")
        .note(format!("the columns are called {}", list_and(&shown)))
        .help("name them with their units, such as `time_min` and `pressure_micron`")
}

fn not_two(delimiter: Delimiter, cells: &[String], line: u64, text: &[u8]) -> LogFault {
    let is_digits = |cell: &String| !cell.is_empty() && cell.bytes().all(|b| b.is_ascii_digit());
    if delimiter == Delimiter::Comma
        && (3..=4).contains(&cells.len())
        && cells.iter().all(is_digits)
    {
        return parted_number(line, text, cells.len(), 2);
    }
    let found = crate::text::count(cells.len(), "column");
    LogFault::new(Code::LogColumns, format!("{found} without a heading"))
        .at(line, text, b"", "a time and a pressure are wanted")
        .help("put a heading above the rows, such as `time_min,pressure_micron`")
}
