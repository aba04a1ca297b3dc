//! Showing an author's text inside a message.

/// The longest text that a message repeats, in characters; longer ones are cut.
const MAX_SHOWN: usize = 72;

/// A text as it appears in a headline or note: on one line, and cut if it is long.
pub(super) fn shortened(text: &str) -> String {
    let mut words = text.split_whitespace();
    let mut shown = words.next().unwrap_or("").to_owned();
    for word in words {
        if shown.len() > MAX_SHOWN {
            break;
        }
        shown.push(' ');
        shown.push_str(word);
    }
    match shown.char_indices().nth(MAX_SHOWN) {
        Some((cut, _)) => format!("{}...", shown[..cut].trim_end()),
        None => shown,
    }
}

/// `` put the text in quotes: `KEY: "TEXT"` ``, the text written so that YAML reads it back as
/// it stands; a text that is too long to repeat is left out.
///
/// A quote that was opened or closed alone, and the quotes of a word processor around a text, are
/// none to YAML: they are left out, and that is said.
pub(super) fn put_in_quotes(before: &str, text: &str) -> String {
    let (text, stray) = without_stray_quotes(text);
    let mend = in_quotes(before, text);
    match stray {
        Some(stray) => format!("{mend}; {stray}"),
        None => mend,
    }
}

/// A text without quotes that don't go around it, and what is said of them.
fn without_stray_quotes(text: &str) -> (&str, Option<&'static str>) {
    const CURLY: [char; 5] = ['\u{201c}', '\u{201d}', '\u{201e}', '\u{2018}', '\u{2019}'];
    let bare = text.trim().trim_start_matches(CURLY).trim_end_matches(CURLY);
    if text.trim().starts_with(CURLY) {
        return (bare, Some("the curly quotes of a word processor are no quotes to YAML"));
    }
    let is_alone = text.matches('"').count() == 1 && text.matches('\'').count() == 0;
    let bare = text.trim();
    let without = bare.strip_prefix('"').or_else(|| bare.strip_suffix('"'));
    match without.filter(|_| is_alone) {
        Some(without) => (without, Some("quotes stand at both ends of a text")),
        None => (text, None),
    }
}

fn in_quotes(before: &str, text: &str) -> String {
    match quoted(text) {
        Some(quoted) => format!("put the text in quotes: `{before}{quoted}`"),
        None => "put the whole text in quotes".to_owned(),
    }
}

/// A text in straight quotes, written so that YAML reads it back as it stands; nothing where it
/// is too long to repeat.
pub(super) fn quoted(text: &str) -> Option<String> {
    if text.chars().nth(2 * MAX_SHOWN).is_some() || text.contains('\n') {
        return None;
    }
    Some(if text.contains(['"', '\\']) {
        format!("'{}'", text.replace('\'', "''"))
    } else {
        format!("\"{text}\"")
    })
}

#[cfg(test)]
mod tests {
    use super::{put_in_quotes, shortened};

    #[test]
    fn a_long_text_is_cut_and_a_quote_inside_is_kept() {
        assert_eq!(shortened(" a\n  b "), "a b");
        assert_eq!(shortened(&"x".repeat(90)), format!("{}...", "x".repeat(72)));
        assert_eq!(shortened(&"word ".repeat(40)).split(' ').count(), 15);
        let help = "put the text in quotes: `do: 'say \"it''s so\"'`";
        assert_eq!(put_in_quotes("do: ", "say \"it's so\""), help);
        assert_eq!(put_in_quotes("", &"x".repeat(200)), "put the whole text in quotes");
    }
}
