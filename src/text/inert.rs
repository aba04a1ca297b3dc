//! Making text from files and people harmless to show.

/// Whether every character may be sent to a terminal as it is.
#[must_use]
pub fn is_inert(text: &str) -> bool {
    // Plain ASCII, which is nearly all text, needs no look at its characters.
    let is_plain = |byte: u8| matches!(byte, b' '..=b'~' | b'\n' | b'\t');
    text.bytes().all(is_plain) || text.chars().all(is_harmless)
}

/// The text with every control character, bidirectional mark and invisible character replaced
/// by a visible stand-in (`\u{1b}` is shown as `<U+001B>`); line breaks and tabs stay.
#[must_use]
pub fn inert(text: &str) -> String {
    if is_inert(text) {
        return text.to_owned();
    }
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        if is_harmless(c) {
            shown.push(c);
        } else {
            shown.push_str(&format!("<U+{:04X}>", u32::from(c)));
        }
    }
    shown
}

fn is_harmless(c: char) -> bool {
    match c {
        '\n' | '\t' => true,
        // Soft hyphen, zero-width characters, line separators, bidirectional marks, tags.
        '\u{ad}'
        | '\u{61c}'
        | '\u{180e}'
        | '\u{200b}'..='\u{200f}'
        | '\u{2028}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{feff}'
        | '\u{fff9}'..='\u{fffb}'
        | '\u{e0000}'..='\u{e007f}' => false,
        _ => !c.is_control(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_escape_sequence_is_shown_and_not_obeyed() {
        assert_eq!(inert("a\u{1b}[2Jb"), "a<U+001B>[2Jb");
        assert_eq!(inert("x\u{202e}y"), "x<U+202E>y");
        assert!(is_inert("µm, °C and\ttabs\n"));
    }
}
