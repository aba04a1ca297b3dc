//! A text of a YAML file that knows where each of its characters is written.

use std::ops::Range;

use serde::{Deserialize, Serialize};

use crate::source::{SourceId, Span};

/// How a text is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Style {
    /// Without quotes.
    Plain,
    /// In single quotes.
    Single,
    /// In double quotes.
    Double,
    /// A `|` block, line breaks kept.
    Literal,
    /// A `>` block, line breaks folded.
    Folded,
}

/// A text as YAML resolves it: quotes, escapes and folding undone.
///
/// A block keeps the line break at its end, as YAML has it; formulas don't mind, and whoever
/// prints prose trims it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Scalar {
    /// The resolved text.
    pub text: String,
    /// How it is written.
    pub style: Style,
    /// Where it is written, quotes included; of a block the lines of its text.
    pub span: Span,
    stretches: Vec<Stretch>,
}

/// A run of the resolved text and the run of the file that it comes from. Where both have the
/// same length they are the same bytes; otherwise the first stands for the whole second.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Stretch {
    pub(super) text: Range<usize>,
    pub(super) file: Range<usize>,
}

impl Stretch {
    fn is_verbatim(&self) -> bool {
        self.text.len() == self.file.len()
    }
}

impl Scalar {
    pub(super) fn new(text: String, style: Style, span: Span, stretches: Vec<Stretch>) -> Self {
        Self { text, style, span, stretches }
    }

    /// A text that is written at `span` exactly as it reads.
    #[must_use]
    pub fn verbatim(text: impl Into<String>, source: SourceId, start: usize) -> Self {
        let text = text.into();
        let file = start..start + text.len();
        let stretches = vec![Stretch { text: 0..text.len(), file }];
        let span = Span::new(source, start, start + text.len());
        Self { text, style: Style::Plain, span, stretches }
    }

    /// The place in the file of a range of bytes of [`text`](Self::text).
    ///
    /// A range past the end is cut; an empty range gives an empty span. A character that is
    /// written as an escape, or a blank that stands for a line break, gives the whole of what
    /// is written for it.
    #[must_use]
    pub fn span_of(&self, range: Range<usize>) -> Span {
        let start = self.file_start(range.start);
        if range.end <= range.start {
            return Span::new(self.span.source, start, start);
        }
        Span::new(self.span.source, start, self.file_end(range.end))
    }

    fn file_start(&self, at: usize) -> usize {
        let next = self.stretches.partition_point(|s| s.text.end <= at);
        match self.stretches.get(next) {
            Some(s) if s.is_verbatim() => s.file.start + at.saturating_sub(s.text.start),
            Some(s) => s.file.start,
            None => self.stretches.last().map_or(self.span.end, |s| s.file.end),
        }
    }

    fn file_end(&self, at: usize) -> usize {
        let holding = self.stretches.partition_point(|s| s.text.end < at);
        match self.stretches.get(holding) {
            Some(s) if s.is_verbatim() => s.file.start + at.saturating_sub(s.text.start),
            Some(s) => s.file.end,
            None => self.stretches.last().map_or(self.span.end, |s| s.file.end),
        }
    }
}
