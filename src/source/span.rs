//! A place in a loaded text.

use serde::{Deserialize, Serialize};

/// Names one loaded text among [`Sources`](super::Sources).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct SourceId(pub(super) usize);

/// A range of bytes in one loaded text; `start <= end`.
///
/// An empty span marks a place between two characters, such as where a word is missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Span {
    /// The text that the range lies in.
    pub source: SourceId,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// A span over `start..end` of `source`; an end before the start is drawn up to it.
    #[must_use]
    pub fn new(source: SourceId, start: usize, end: usize) -> Self {
        Self { source, start, end: end.max(start) }
    }

    /// The smallest span that covers both, which must lie in the same text.
    #[must_use]
    pub fn to(self, other: Span) -> Span {
        debug_assert_eq!(self.source, other.source);
        Span::new(self.source, self.start.min(other.start), self.end.max(other.end))
    }

    /// The empty span right behind this one.
    #[must_use]
    pub fn after(self) -> Span {
        Span::new(self.source, self.end, self.end)
    }
}
