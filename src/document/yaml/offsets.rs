//! From the parser's count of characters to bytes of the file.

/// The parser counts characters, everyone else counts bytes.
pub(super) struct Offsets {
    skipped: usize,
    bytes: Option<Vec<usize>>,
    length: usize,
}

impl Offsets {
    pub(super) fn new(text: &str) -> Self {
        let skipped = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
        let body = &text[skipped..];
        let bytes = (!body.is_ascii()).then(|| body.char_indices().map(|(at, _)| at).collect());
        Self { skipped, bytes, length: text.len() }
    }

    /// The text without a byte order mark.
    pub(super) fn body<'t>(&self, text: &'t str) -> &'t str {
        &text[self.skipped..]
    }

    pub(super) fn byte(&self, character: usize) -> usize {
        let at = match &self.bytes {
            None => Some(character),
            Some(bytes) => bytes.get(character).copied(),
        };
        at.map_or(self.length, |at| (at + self.skipped).min(self.length))
    }
}
