//! Rows that hang below what leads them, for lists that are printed as results.

use textwrap::{Options, WordSplitter};

/// How wide a result is (columns), so that it fits the narrowest common terminal.
pub(super) const WIDTH: usize = 80;

/// A text behind a lead; its other rows stand below its first.
pub(super) fn hang(lead: &str, text: &str) -> String {
    let below = " ".repeat(lead.chars().count());
    indented(lead, &below, text)
}

/// A text whose first row and whose other rows are indented differently.
pub(super) fn indented(first: &str, others: &str, text: &str) -> String {
    let options = Options::new(WIDTH).initial_indent(first).subsequent_indent(others);
    textwrap::fill(text, options.word_splitter(WordSplitter::NoHyphenation))
}

/// A call of a function, broken behind commas alone.
pub(super) fn call(first: &str, others: &str, text: &str) -> String {
    const UNBROKEN: char = '\u{a0}';
    let joined = text.replace(' ', "\u{a0}").replace(",\u{a0}", ", ");
    indented(first, others, &joined).replace(UNBROKEN, " ")
}
