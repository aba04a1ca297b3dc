//! A line of text whose pieces say what they are.

/// What a piece of text means to its reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Running text.
    Plain,
    /// A heading or the point of the sentence.
    Strong,
    /// A measured or computed value with its unit.
    Value,
    /// A name that can be typed: a question, a cause, a command.
    Name,
    /// Something that could hurt someone, or that stops the work.
    Warning,
    /// Side information that may be skipped.
    Quiet,
}

/// A run of characters with one meaning.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// What the characters are.
    pub role: Role,
    /// The characters, without line breaks.
    pub text: String,
}

/// One paragraph: pieces in reading order, to be wrapped by whoever shows it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    /// The pieces in reading order.
    pub pieces: Vec<Piece>,
}

impl Line {
    /// An empty line.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// A line of running text.
    #[must_use]
    pub fn plain(text: impl Into<String>) -> Self {
        Self::new().push(Role::Plain, text)
    }

    /// A line that is one warning.
    #[must_use]
    pub fn warning(text: impl Into<String>) -> Self {
        Self::new().push(Role::Warning, text)
    }

    /// A heading.
    #[must_use]
    pub fn strong(text: impl Into<String>) -> Self {
        Self::new().push(Role::Strong, text)
    }

    /// The same line with one more piece at its end.
    #[must_use]
    pub fn push(mut self, role: Role, text: impl Into<String>) -> Self {
        self.pieces.push(Piece { role, text: text.into() });
        self
    }

    /// The same line with another's pieces behind it.
    #[must_use]
    pub fn join(mut self, other: Line) -> Self {
        self.pieces.extend(other.pieces);
        self
    }

    /// The characters alone.
    #[must_use]
    pub fn to_text(&self) -> String {
        self.pieces.iter().map(|piece| piece.text.as_str()).collect()
    }
}
