//! What was noticed about the rows of a log, row by row and counted.

use std::collections::BTreeMap;

use crate::diagnostic::{Code, Diagnostic};
use crate::source::Sources;
use crate::text::{count, inert};

/// Rows of each remark that are kept with their text; the others are counted only.
const KEPT_OF_EACH: u64 = 5;
/// The most characters of a row that are kept.
const LONGEST_ROW: usize = 120;

/// What is said about a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Remark {
    /// Stands above the heading of the columns, so it was passed over.
    AboveHeading,
    /// Has fewer cells than the time and the pressure need.
    CellsMissing,
    /// Is longer than any row of a log, or has a quote that is not closed.
    Unsplittable,
    /// Has no time.
    TimeMissing,
    /// Has a time that can't be read.
    TimeUnreadable,
    /// Has no pressure: empty, or a mark such as `NA`.
    PressureMissing,
    /// Has a pressure that is no number.
    PressureUnreadable,
    /// Has an absolute pressure below zero.
    BelowZero,
    /// Has the time and the pressure of another row.
    Repeated,
    /// Has the time of another row and another pressure; the mean of them was taken.
    Averaged,
    /// Has a stamp before that of the row above; it was put where it belongs.
    OutOfOrder,
    /// Comes after a longer pause than the rows usually have between them.
    BehindGap,
    /// Has a time of day far before the row above, so that midnight lies between.
    BehindMidnight,
    /// Is the first of times with one colon, which were read as minutes and seconds.
    ReadAsMinutes,
    /// Is the first of times with one colon, which were read as times of day.
    ReadAsClock,
    /// Is the first of a few bare times, which were taken as minutes.
    TakenAsMinutes,
}

impl Remark {
    /// Whether the row is not among the readings.
    #[must_use]
    pub fn is_left_out(self) -> bool {
        self <= Self::Repeated && self != Self::AboveHeading
    }

    /// Whether it was the text of the row that could not be used.
    pub(super) fn is_misread(self) -> bool {
        matches!(
            self,
            Self::CellsMissing
                | Self::Unsplittable
                | Self::TimeMissing
                | Self::TimeUnreadable
                | Self::PressureUnreadable
        )
    }

    /// What is so and what was done, for a label.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::AboveHeading => "stands above the heading; passed over",
            Self::CellsMissing => "has too few cells; left out",
            Self::Unsplittable => "is too long or has an open quote; left out",
            Self::TimeMissing => "has no time; left out",
            Self::TimeUnreadable => "has a time that can't be read; left out",
            Self::PressureMissing => "has no pressure; left out",
            Self::PressureUnreadable => "has a pressure that is no number; left out",
            Self::BelowZero => "has an absolute pressure below zero; left out",
            Self::Repeated => "repeats another row; left out",
            Self::Averaged => "has the time of another row; the mean of both was taken",
            Self::OutOfOrder => "has a stamp before the row above; sorted in",
            Self::BehindGap => "comes after a gap; rows seem to be missing before it",
            Self::BehindMidnight => "starts the next day; midnight was counted in",
            Self::ReadAsMinutes => "has a time read as minutes and seconds",
            Self::ReadAsClock => "has a time read as hours and minutes of the day",
            Self::TakenAsMinutes => "has a time without a unit; all were taken as minutes",
        }
    }

    /// What is so of all times, where the row is only the first of them.
    fn of_all(self) -> Option<&'static str> {
        match self {
            Self::ReadAsMinutes => Some("times with one colon: read as minutes and seconds"),
            Self::ReadAsClock => Some("times with one colon: read as hours and minutes of the day"),
            Self::TakenAsMinutes => Some("no time has a unit: all were taken as minutes"),
            _ => None,
        }
    }
}

/// A remark about one row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// The row's line, from 1.
    pub line: u64,
    /// The row itself, shortened.
    pub row: String,
    /// What is said about it.
    pub remark: Remark,
}

impl Note {
    /// The remark as a warning at its row; the row is added to `sources` under the log's name.
    #[must_use]
    pub fn diagnostic(&self, sources: &mut Sources, log: &str) -> Diagnostic {
        let line = usize::try_from(self.line).unwrap_or(usize::MAX);
        let id = sources.add_lines(log, line, self.row.as_str());
        let span = sources.span(id, 0, self.row.len());
        Diagnostic::at(Code::LogRow, format!("a row that {}", self.remark.words()), span, "")
    }
}

/// All remarks about a log: every one counted, the first few of each kept with their rows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Notes {
    kept: Vec<Note>,
    counts: BTreeMap<Remark, u64>,
}

impl Notes {
    pub(super) fn add(&mut self, line: u64, row: &[u8], remark: Remark) {
        let counted = self.counts.entry(remark).or_default();
        *counted += 1;
        if *counted <= KEPT_OF_EACH {
            self.kept.push(Note { line, row: shortened(row), remark });
        }
    }

    /// The rows that are kept, in the order of their lines.
    #[must_use]
    pub fn kept(&self) -> &[Note] {
        &self.kept
    }

    /// How many rows there are of each remark.
    pub fn counts(&self) -> impl Iterator<Item = (Remark, u64)> + '_ {
        self.counts.iter().map(|(&remark, &number)| (remark, number))
    }

    /// How many rows one remark was made about.
    #[must_use]
    pub fn count(&self, remark: Remark) -> u64 {
        self.counts.get(&remark).copied().unwrap_or(0)
    }

    /// How many rows are not among the readings.
    #[must_use]
    pub fn left_out(&self) -> u64 {
        self.counts().filter(|(remark, _)| remark.is_left_out()).map(|(_, number)| number).sum()
    }

    pub(super) fn misread(&self) -> u64 {
        self.counts().filter(|(remark, _)| remark.is_misread()).map(|(_, number)| number).sum()
    }

    /// A line for each remark, with the first rows it was made about.
    ///
    /// `2 rows: has no pressure; left out (lines 3, 9)`
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        self.counts().map(|(remark, number)| self.line(remark, number)).collect()
    }

    fn line(&self, remark: Remark, number: u64) -> String {
        if let Some(told) = remark.of_all() {
            let first = self.kept.iter().find(|note| note.remark == remark);
            let from = first.map(|note| format!(" (from line {})", note.line));
            return format!("{told}{}", from.unwrap_or_default());
        }
        let kept = self.kept.iter().filter(|note| note.remark == remark);
        let lines: Vec<String> = kept.map(|note| note.line.to_string()).collect();
        let more = if number > lines.len() as u64 { " ..." } else { "" };
        let word = if lines.len() == 1 { "line" } else { "lines" };
        let rows = count(usize::try_from(number).unwrap_or(usize::MAX), "row");
        format!("{rows}: {} ({word} {}{more})", remark.words(), lines.join(", "))
    }

    pub(super) fn sort(&mut self) {
        self.kept.sort_by_key(|note| (note.line, note.remark));
    }
}

/// A row as text, shortened, without characters that steer a terminal.
pub(super) fn shortened(row: &[u8]) -> String {
    let bytes = row.get(..4 * LONGEST_ROW).unwrap_or(row);
    inert(&String::from_utf8_lossy(bytes)).chars().take(LONGEST_ROW).collect()
}
