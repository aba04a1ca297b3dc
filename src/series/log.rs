//! A log from its first line to its last.

use std::io::{BufRead, Error};
use std::ops::Range;

use thiserror::Error;

use super::decimal::Comma;
use super::example::example_unit;
use super::gathering::{Gathering, GoesBack};
use super::heading::Columns;
use super::layout::{Layout, refuse_unit};
use super::pressures::{PressureCell, PressureReader};
use super::rows::{Delimiter, Lines};
use super::thinning::Row;
use super::times::{TimeFault, TimeReader};
use super::{Given, LogFault, Readings, Remark};
use crate::diagnostic::Code;
use crate::quantity::UnitExpression;

/// Rows that are looked at before the first is read.
const SAMPLE: usize = 64;
/// Rows that could not be used, below which a log is not doubted as a whole.
const FEW_MISREAD: u64 = 3;

/// Why a log gave no readings.
#[derive(Debug, Error)]
pub enum LogError {
    /// What is written in it.
    #[error("{0}")]
    Fault(#[from] LogFault),
    /// The reader failed.
    #[error("the log can't be read to its end: {0}")]
    Reader(#[from] Error),
}

/// Reads a log row by row in one pass and bounded memory.
///
/// Finds the delimiter, the heading and the units, unless `given` tells them; passes over comments
/// and whatever stands above the heading; leaves out or sorts in rows as [`Remark`] says, and
/// keeps a note of each. Readings are rows while there are at most 4096 of them, and means over
/// equal stretches of time beyond.
///
/// # Errors
/// A [`LogFault`] where reading on would mean to guess: columns or units that are not told, a
/// comma that can mean two things, an elapsed time that goes back, fewer than two readings.
///
/// ```
/// use dryhold::series::{Given, read_log};
/// let log = "time_min,pressure_micron\n0,300\n5,420\n10,OL\n";
/// let readings = read_log(log.as_bytes(), &Given::default()).unwrap();
/// assert_eq!(readings.times(), [0.0, 300.0]);
/// assert_eq!(readings.marks()[0].time_s, 600.0);
/// ```
pub fn read_log(reader: impl BufRead, given: &Given) -> Result<Readings, LogError> {
    let mut lines = Lines::new(reader);
    let mut sample: Vec<(u64, Vec<u8>)> = Vec::new();
    while sample.len() < SAMPLE && lines.next_row()? {
        if sample.is_empty() && is_utf_16(&lines.line) {
            let fault = LogFault::new(Code::Unreadable, "the log is written in UTF-16");
            return Err(fault.help("save it as UTF-8").into());
        }
        sample.push((lines.number, lines.row().to_vec()));
    }
    let layout = Layout::of(&sample, given)?;
    let mut log = Log::new(layout, given)?;
    log.settle_comma(&sample);
    for (line, text) in sample.iter().take(log.first_row) {
        if !log.heading_lines.contains(line) {
            log.gathering.notes.add(*line, text, Remark::AboveHeading);
        }
    }
    for (line, text) in sample.iter().skip(log.first_row) {
        log.row(*line, text)?;
    }
    while lines.next_row()? {
        log.row(lines.number, lines.row())?;
    }
    Ok(log.finish()?)
}

fn is_utf_16(line: &[u8]) -> bool {
    line.starts_with(&[0xff, 0xfe]) || line.starts_with(&[0xfe, 0xff])
}

/// A log being read.
struct Log {
    delimiter: Delimiter,
    columns: Columns,
    first_row: usize,
    heading_lines: Vec<u64>,
    time: TimeReader,
    pressure: PressureReader,
    comma: Comma,
    gathering: Gathering,
    cells: Vec<Range<usize>>,
    previous_row: Vec<u8>,
    shown_in: Option<UnitExpression>,
}

impl Log {
    fn new(layout: Layout, given: &Given) -> Result<Self, LogFault> {
        let Layout { delimiter, columns, first_row, heading_lines } = layout;
        let time = TimeReader::new(columns.time_unit.clone(), columns.is_elapsed);
        Ok(Self {
            delimiter,
            first_row,
            heading_lines,
            time: time.ok_or_else(|| LogFault::new(Code::LogUnit, "times have no unit"))?,
            pressure: PressureReader::new(columns.pressure_unit.clone()),
            comma: Comma::Unsettled,
            gathering: Gathering::new(),
            cells: Vec::with_capacity(columns.cells),
            previous_row: Vec::new(),
            columns,
            shown_in: given.shown_in.clone(),
        })
    }

    /// Looks for a comma that can mean one thing only.
    fn settle_comma(&mut self, sample: &[(u64, Vec<u8>)]) {
        for (_, text) in sample.iter().skip(self.first_row) {
            if !self.delimiter.split(text, &mut self.cells) {
                continue;
            }
            for at in [self.columns.time, self.columns.pressure] {
                let cell = self.cells.get(at).map(|range| &text[range.clone()]);
                if let Some(meaning) = cell.and_then(bare_with_comma).and_then(Comma::of) {
                    self.comma = meaning;
                    return;
                }
            }
        }
    }

    fn row(&mut self, line: u64, text: &[u8]) -> Result<(), LogFault> {
        if !self.delimiter.split(text, &mut self.cells) {
            self.gathering.notes.add(line, text, Remark::Unsplittable);
            return Ok(());
        }
        self.refuse_parted_numbers(line, text)?;
        let cell = |at: usize| self.cells.get(at).map(|range| &text[range.clone()]);
        let (Some(time), Some(pressure)) = (cell(self.columns.time), cell(self.columns.pressure))
        else {
            self.gathering.notes.add(line, text, Remark::CellsMissing);
            return Ok(());
        };
        let date = self.columns.date.and_then(cell);
        if self.comma == Comma::Unsettled {
            self.comma = settled(line, text, [time, pressure])?;
        }
        let time_cell = time;
        let time = match self.time.read(date, time, self.comma) {
            Ok((time, remark)) => {
                if let Some(remark) = remark {
                    self.gathering.notes.add(line, text, remark);
                }
                time
            }
            Err(TimeFault::Row(remark)) => {
                self.gathering.notes.add(line, text, remark);
                return Ok(());
            }
            Err(TimeFault::NoUnit) => return Err(self.no_unit(line, text, time_cell, "time")),
        };
        match self.pressure.read(pressure, self.comma) {
            PressureCell::Value(pressure, shown) => {
                self.gathering.is_sorted_in = self.time.is_stamped();
                let row = Row { time, pressure, line };
                self.gathering
                    .add(row, shown, text)
                    .map_err(|GoesBack| self.goes_back(line, text, time_cell))?;
                self.previous_row.clear();
                self.previous_row.extend_from_slice(text);
            }
            PressureCell::Beyond(beyond, limit) => self.gathering.mark(time, beyond, limit),
            PressureCell::Unusable(remark) => self.gathering.notes.add(line, text, remark),
            PressureCell::NoUnit => return Err(self.no_unit(line, text, pressure, "pressure")),
        }
        Ok(())
    }

    /// More cells than the heading has where commas part them: one of the numbers has a comma.
    fn refuse_parted_numbers(&self, line: u64, text: &[u8]) -> Result<(), LogFault> {
        if self.delimiter != Delimiter::Comma || self.cells.len() <= self.columns.cells {
            return Ok(());
        }
        if self.cells[self.columns.cells..].iter().all(Range::is_empty) {
            return Ok(());
        }
        Err(parted_number(line, text, self.cells.len(), self.columns.cells))
    }

    fn no_unit(&self, line: u64, text: &[u8], cell: &[u8], what: &str) -> LogFault {
        let unit = if what == "time" { "min" } else { example_unit(self.shown_in.as_ref()) };
        LogFault::new(Code::LogUnit, format!("the {what} has no unit"))
            .at(line, text, cell, "a bare number")
            .help(format!(
                "name the unit in the heading, such as `{what}_{unit}`, or by `--{what}-unit`"
            ))
    }

    fn goes_back(&self, line: u64, text: &[u8], time: &[u8]) -> LogFault {
        let mut fault = LogFault::new(Code::LogTimeBack, "the elapsed time goes back").at(
            line,
            text,
            time,
            "earlier than the row above",
        );
        if let Some(previous) = self.gathering.previous {
            fault = fault.at(previous.line, &self.previous_row, b"", "the row above");
        }
        fault.note(
            "either a second test begins here, or rows were put in another order; \
             a log holds one test, in the order of its times",
        )
    }

    fn finish(self) -> Result<Readings, LogFault> {
        let misread = self.gathering.notes.misread();
        let notes = self.gathering.notes.clone();
        let Some((mut readings, origin)) = self.gathering.finish_with_steps(|steps| {
            let step = steps.found()?;
            Some(step * self.columns.pressure_unit.as_ref()?.factor.abs())
        }) else {
            return Err(too_short(0, &notes));
        };
        let rows = readings.rows();
        if misread > rows.max(FEW_MISREAD) {
            return Err(mostly_misread(misread, rows, &notes));
        }
        if rows < 2 {
            return Err(too_short(rows, &notes));
        }
        if readings.len() < 2 {
            return Err(too_short(1, &notes).note("its rows all have the same time"));
        }
        readings.unit = self.columns.pressure_unit;
        readings.start = self.time.start(origin);
        Ok(readings)
    }
}

/// The text of a bare number with a comma.
fn bare_with_comma(cell: &[u8]) -> Option<&str> {
    let is_number = |b: &u8| b.is_ascii_digit() || matches!(b, b',' | b'.' | b'-' | b'+');
    let has_comma = cell.contains(&b',') && cell.iter().all(is_number);
    has_comma.then(|| std::str::from_utf8(cell).ok()).flatten()
}

/// What the commas of a row settle.
fn settled(line: u64, text: &[u8], cells: [&[u8]; 2]) -> Result<Comma, LogFault> {
    for cell in cells {
        if let Some(number) = bare_with_comma(cell) {
            return Comma::of(number).ok_or_else(|| {
                let whole = number.replace([',', '.'], "");
                LogFault::new(
                    Code::LogComma,
                    format!("the comma in `{number}` can mean two things"),
                )
                .at(line, text, cell, "a decimal comma, or thousands")
                .help(format!(
                    "write the number with a decimal point, or without a comma: `{whole}`"
                ))
            });
        }
    }
    Ok(Comma::Unsettled)
}

pub(super) fn parted_number(line: u64, text: &[u8], found: usize, columns: usize) -> LogFault {
    LogFault::new(Code::LogComma, format!("{found} cells in a row of {columns} columns"))
        .at(line, text, b"", "a comma inside a number looks like one between two columns")
        .help("part the columns with semicolons, or write numbers with a decimal point")
}

fn mostly_misread(misread: u64, rows: u64, notes: &super::Notes) -> LogFault {
    let title = format!("{misread} rows can't be read, and only {rows} can");
    let fault = LogFault::new(Code::LogColumns, title);
    point_at_first(fault, notes)
        .note("the columns seem to hold something else than the heading says")
}

fn too_short(rows: u64, notes: &super::Notes) -> LogFault {
    let found = if rows == 0 { "no reading" } else { "only one reading" };
    let fault = LogFault::new(Code::LogTooShort, format!("{found} in the log"));
    point_at_first(fault, notes).note("a rise needs two readings at least")
}

fn point_at_first(fault: LogFault, notes: &super::Notes) -> LogFault {
    match notes.kept().iter().find(|note| note.remark.is_left_out()) {
        Some(note) => fault.at(note.line, note.row.as_bytes(), b"", note.remark.words()),
        None => fault,
    }
}

/// Refuses a column's unit that can't be its own.
pub(super) fn check_unit(columns: &Columns, line: u64, text: &[u8]) -> Result<(), LogFault> {
    columns.pressure_unit.as_ref().map_or(Ok(()), |unit| refuse_unit(unit, line, text))
}
