//! Who acknowledges a caution.

use super::words::{Action, folded};
use crate::text::Line;

/// What people type to get past a caution, and what names nobody.
const NOBODY: [&str; 12] =
    ["yes", "yep", "no", "ok", "okay", "done", "me", "ack", "acknowledge", "none", "nobody", "go"];

/// The name to record, or why it is none. Initials will do.
pub(super) fn name_typed(typed: &str) -> Result<String, Line> {
    let name = typed.split_whitespace().collect::<Vec<_>>().join(" ");
    let letters = name.chars().filter(|c| c.is_alphabetic()).count();
    let is_word = NOBODY.contains(&folded(&name).as_str()) || Action::from_word(&name).is_some();
    // A reading or a code that was meant for a later prompt.
    let has_digit = name.chars().any(char::is_numeric);
    if letters < 2 || is_word || has_digit {
        return Err(Line::plain(
            "Type the name or the initials of the person who acknowledges this, without \
             figures; the record keeps them.",
        ));
    }
    Ok(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_or_initials_acknowledge_and_a_nod_does_not() {
        assert_eq!(name_typed("  A.  B. "), Ok("A. B.".to_owned()));
        assert_eq!(name_typed("王芳"), Ok("王芳".to_owned()));
        let nobody = ["", " ", "y", "12", "--", "YES", "ok", "a", "Not sure", "skip"];
        for typed in nobody.into_iter().chain(["40 bar", "R-32", "about 300 micron"]) {
            assert!(name_typed(typed).is_err(), "{typed}");
        }
    }
}
