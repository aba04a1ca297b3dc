//! Texts inside HTML, SVG and Markdown.

use super::inert;

/// A text as it may stand in an element or a quoted attribute: inert, and with the characters that
/// begin or end markup written by their names.
///
/// ```
/// use dryhold::text::escaped;
/// assert_eq!(escaped("a < \"b\" & c"), "a &lt; &quot;b&quot; &amp; c");
/// ```
#[must_use]
pub fn escaped(text: &str) -> String {
    let mut escaped = String::new();
    for c in inert(text).chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            c => escaped.push(c),
        }
    }
    escaped
}

/// A text that Markdown takes as it stands, in one row and inert.
///
/// ```
/// use dryhold::text::markdown_escaped;
/// assert_eq!(markdown_escaped("a *b*\n# c"), "a \\*b\\* \\# c");
/// ```
#[must_use]
pub fn markdown_escaped(text: &str) -> String {
    let mut escaped = String::new();
    for c in inert(text).chars() {
        if "\\`*_{}[]<>#|~&".contains(c) {
            escaped.push('\\');
        }
        escaped.push(if c == '\n' { ' ' } else { c });
    }
    escaped
}
