//! Why a log as a whole can't be read.

use super::notes::shortened;
use crate::diagnostic::{Code, Diagnostic};
use crate::source::Sources;

/// A row that a fault points at.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Place {
    line: u64,
    row: String,
    start: usize,
    end: usize,
    label: String,
}

/// A fault of a whole log: what, in which lines, why, and the mend where it is sure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogFault {
    /// Which fault it is.
    pub code: Code,
    title: String,
    places: Vec<Place>,
    note: Option<String>,
    help: Option<String>,
}

impl LogFault {
    pub(super) fn new(code: Code, title: impl Into<String>) -> Self {
        Self { code, title: title.into(), places: Vec::new(), note: None, help: None }
    }

    /// Points at a cell of a row.
    pub(super) fn at(mut self, line: u64, row: &[u8], cell: &[u8], label: &str) -> Self {
        let row = shortened(row);
        let cell = shortened(cell);
        let found = (!cell.is_empty()).then(|| row.find(&cell)).flatten();
        let (start, end) = found.map_or((0, row.len()), |at| (at, at + cell.len()));
        self.places.push(Place { line, row, start, end, label: label.to_owned() });
        self
    }

    pub(super) fn note(mut self, note: impl Into<String>) -> Self {
        self.note = Some(note.into());
        self
    }

    pub(super) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// The line that the fault points at first, from 1.
    #[must_use]
    pub fn line(&self) -> Option<u64> {
        self.places.first().map(|place| place.line)
    }

    /// The fault at its rows, which are added to `sources` under the log's name.
    #[must_use]
    pub fn diagnostic(&self, sources: &mut Sources, log: &str) -> Diagnostic {
        let mut fault = Diagnostic::nowhere(self.code, self.title.as_str());
        for place in &self.places {
            let line = usize::try_from(place.line).unwrap_or(usize::MAX);
            let id = sources.add_lines(log, line, place.row.as_str());
            fault = fault.and_at(sources.span(id, place.start, place.end), place.label.as_str());
        }
        fault.note.clone_from(&self.note);
        fault.maybe_help(self.help.clone())
    }
}

impl std::fmt::Display for LogFault {
    /// What is wrong and how to mend it, in one line, for a block that was pasted.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(line) = self.line() {
            write!(f, "line {line}: ")?;
        }
        f.write_str(&self.title)?;
        self.help.as_ref().map_or(Ok(()), |help| write!(f, "; {help}"))
    }
}

impl std::error::Error for LogFault {}
