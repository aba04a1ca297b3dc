//! What a label of a list may be called by whoever types it.

/// Whether a label, or one of the names that it gives with commas between, is what was typed, but
/// for the case of letters, blanks and strokes: `R410A` is `R-410A`, `propane` is in
/// `R-290, propane`.
///
/// ```
/// use dryhold::text::is_called;
/// assert!(is_called("R-290, propane", "r 290"));
/// assert!(is_called("R-290, propane", "Propane"));
/// assert!(!is_called("R-290, propane", "R-29"));
/// ```
#[must_use]
pub fn is_called(label: &str, typed: &str) -> bool {
    let typed = bare(typed);
    let names = label.split(", ").map(bare);
    !typed.is_empty() && (bare(label) == typed || names.into_iter().any(|name| name == typed))
}

/// Letters and digits alone, in lower case.
fn bare(text: &str) -> String {
    let kept = text.chars().filter(|c| c.is_alphanumeric());
    kept.flat_map(char::to_lowercase).collect()
}
