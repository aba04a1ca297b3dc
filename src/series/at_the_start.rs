//! Words for the time of the first reading: `350 at once, then 700 every 5 min`.

/// What people say for no time at all, longer words before those that begin them.
const AT_THE_START: [&str; 11] = [
    "straight away",
    "straightaway",
    "right away",
    "at the beginning",
    "at the start",
    "in the beginning",
    "to begin with",
    "to start with",
    "at start",
    "at first",
    "at once",
];

/// The text without such words at its beginning or at its end; none where it has none there.
pub(super) fn without_the_start(text: &str) -> Option<&str> {
    let text = text.trim();
    let parts = |c: char| c.is_whitespace() || matches!(c, ':' | ',' | '-');
    AT_THE_START.iter().find_map(|words| {
        let at = text.len().checked_sub(words.len())?;
        let is_at =
            |range| text.get(range).is_some_and(|said: &str| said.eq_ignore_ascii_case(words));
        let rest = match () {
            () if is_at(at..text.len()) => text[..at].strip_suffix(parts)?,
            () if is_at(0..words.len()) => text[words.len()..].strip_prefix(parts)?,
            () => return None,
        };
        let rest = rest.trim_matches(parts);
        (!rest.is_empty()).then_some(rest)
    })
}

#[cfg(test)]
mod tests {
    use super::without_the_start;

    #[test]
    fn the_words_stand_before_the_reading_or_behind_it() {
        for text in ["350 at once", "At once: 350", "350, straight away", "to begin with 350"] {
            assert_eq!(without_the_start(text), Some("350"), "{text}");
        }
        for text in ["350", "at once", "350 at 5 min", "350at once"] {
            assert_eq!(without_the_start(text), None, "{text}");
        }
    }
}
