//! Texts inside HTML and SVG.

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
