//! Tokens of a formula.

use std::ops::Range;

/// The smallest parts of a formula.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Token<'a> {
    /// A number without sign; `is_whole` if it was written with digits alone.
    Number {
        /// What it comes to.
        value: f64,
        /// Whether it was written with digits alone.
        is_whole: bool,
    },
    /// A name, a unit or a word of the language.
    Word(&'a str),
    /// `%`
    Percent,
    /// `+`
    Plus,
    /// `-`
    Minus,
    /// `+-`
    PlusMinus,
    /// `*`
    Star,
    /// `/`
    Slash,
    /// `^`
    Caret,
    /// `(`
    Open,
    /// `)`
    Close,
    /// `,`
    Comma,
    /// `=`
    Equals,
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    Greater,
    /// `>=`
    AtLeast,
    /// Behind the last token.
    End,
}

/// A token and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Lexeme<'a> {
    /// What it is.
    pub token: Token<'a>,
    /// The bytes of the formula that it covers.
    pub range: Range<usize>,
}

/// The words that the language uses itself, in the order of their precedence.
pub const LANGUAGE_WORDS: &[&str] = &[
    "or", "and", "not", "is", "one", "of", "includes", "if", "then", "else", "as", "yes", "no",
    "never",
];

/// Whether a name can't be an id because the language uses it itself: `and`, `is`, `yes` and the
/// like. Names of units can't be ids either; [`crate::quantity::find_unit`] knows those.
#[must_use]
pub fn is_language_word(name: &str) -> bool {
    LANGUAGE_WORDS.contains(&name)
}
