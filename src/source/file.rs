//! Loaded texts with their line index.

use super::{SourceId, Span};

/// One loaded text and where its lines begin.
#[derive(Clone, Debug)]
pub struct Source {
    name: String,
    text: String,
    line_starts: Vec<usize>,
    prepared: Option<&'static [u8]>,
    first_line: usize,
}

impl Source {
    fn new(name: String, text: String) -> Self {
        let mut line_starts = vec![0];
        line_starts
            .extend(text.bytes().enumerate().filter(|&(_, b)| b == b'\n').map(|(i, _)| i + 1));
        Self { name, text, line_starts, prepared: None, first_line: 1 }
    }

    /// The name shown to people: a path, or a phrase such as `<formula>`.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What was read of the text before, see [`Sources::add_prepared`].
    #[must_use]
    pub fn prepared(&self) -> Option<&'static [u8]> {
        self.prepared
    }

    /// Line and column, both from 1, of a byte offset; columns count characters.
    #[must_use]
    pub fn position(&self, offset: usize) -> (usize, usize) {
        let offset = offset.min(self.text.len());
        let line = self.line_starts.partition_point(|&start| start <= offset);
        let start = self.line_starts[line - 1];
        let column = self.text.get(start..offset).map_or(offset - start, |s| s.chars().count());
        (self.first_line + line - 1, column + 1)
    }
}

/// All texts loaded for one run.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    all: Vec<Source>,
}

impl Sources {
    /// Keeps a text under a name and gives its id.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> SourceId {
        self.all.push(Source::new(name.into(), text.into()));
        SourceId(self.all.len() - 1)
    }

    /// Keeps a text that is part of the program, with what was read of it before, in the form of
    /// whoever reads it.
    pub fn add_prepared(
        &mut self,
        name: impl Into<String>,
        text: &'static str,
        prepared: &'static [u8],
    ) -> SourceId {
        let id = self.add(name, text);
        self.all[id.0].prepared = Some(prepared);
        id
    }

    /// Keeps some lines of a text that is not loaded as a whole, such as a long log.
    ///
    /// `first_line` is the number, from 1, that the first of these lines has there.
    pub fn add_lines(
        &mut self,
        name: impl Into<String>,
        first_line: usize,
        text: impl Into<String>,
    ) -> SourceId {
        let id = self.add(name, text);
        self.all[id.0].first_line = first_line.max(1);
        id
    }

    /// The text behind an id that [`add`](Self::add) of the same collection gave.
    #[must_use]
    pub fn get(&self, id: SourceId) -> &Source {
        &self.all[id.0]
    }

    /// A span in one of these texts.
    #[must_use]
    pub fn span(&self, id: SourceId, start: usize, end: usize) -> Span {
        Span::new(id, start, end)
    }

    /// The characters under a span; empty if it does not fall on character borders.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.get(span.source).text().get(span.start..span.end).unwrap_or("")
    }

    /// Line and column, both from 1, where a span starts.
    #[must_use]
    pub fn position(&self, span: Span) -> (usize, usize) {
        self.get(span.source).position(span.start)
    }

    /// Every loaded text with its id, in the order of loading.
    pub fn iter(&self) -> impl Iterator<Item = (SourceId, &Source)> {
        self.all.iter().enumerate().map(|(i, s)| (SourceId(i), s))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_counts_characters_not_bytes() {
        let mut sources = Sources::default();
        let id = sources.add("x", "höhe: 5 µm\n");
        let at = "höhe: ".len();
        assert_eq!(sources.position(sources.span(id, at, at + 1)), (1, 7));
    }

    #[test]
    fn lines_of_a_longer_text_keep_their_numbers() {
        let mut sources = Sources::default();
        let id = sources.add_lines("log.csv", 40, "a,b\nc,d");
        assert_eq!(sources.position(sources.span(id, 6, 7)), (41, 3));
    }

    #[test]
    fn an_offset_past_the_end_is_the_end() {
        let mut sources = Sources::default();
        let id = sources.add("x", "a\nb");
        assert_eq!(sources.position(sources.span(id, 99, 99)), (2, 2));
    }
}
