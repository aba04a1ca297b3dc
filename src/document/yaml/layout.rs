//! Which bytes of the file each run of a resolved text comes from.
//!
//! YAML only ever changes blanks and line breaks between the words of a text, and escapes in
//! quotes. So the words of the resolved text are met in the file in the same order, and the
//! blanks between two of them stand for the blanks between them in the file.

use std::ops::Range;

use crate::document::Style;
use crate::document::scalar::Stretch;

/// One written character, or one escape: where it is and what it resolves to; blanks and
/// line breaks resolve to `None`, since folding decides what becomes of them.
struct Token {
    file: Range<usize>,
    resolved: Option<char>,
}

/// Aligns a resolved text with `written`, what stands in the file from byte `base` on.
///
/// If the two don't fit together, the whole text is said to come from the whole of `written`.
pub(super) fn align(text: &str, written: &str, base: usize, style: Style) -> Vec<Stretch> {
    let whole = || vec![Stretch { text: 0..text.len(), file: base..base + written.len() }];
    let body = match style {
        Style::Single | Style::Double if written.len() >= 2 => 1..written.len() - 1,
        _ => 0..written.len(),
    };
    if !text.is_empty() && written.get(body.clone()) == Some(text) {
        // Most texts stand in the file as they are.
        return vec![Stretch { text: 0..text.len(), file: base + body.start..base + body.end }];
    }
    match words_in_order(text, &tokens(written, body, style), base) {
        Some(stretches) => stretches,
        None => whole(),
    }
}

fn tokens(written: &str, body: Range<usize>, style: Style) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut at = body.start;
    while let Some(c) = written.get(at..body.end).and_then(|rest| rest.chars().next()) {
        let rest = &written[at..body.end];
        let (length, resolved) = match (style, c) {
            (Style::Single, '\'') if rest.starts_with("''") => (2, Some('\'')),
            (Style::Double, '\\') => escape(rest),
            (_, ' ' | '\t' | '\r' | '\n') => (1, None),
            _ => (c.len_utf8(), Some(c)),
        };
        tokens.push(Token { file: at..at + length, resolved });
        at += length;
    }
    tokens
}

/// Length and meaning of the escape that `rest` begins with.
fn escape(rest: &str) -> (usize, Option<char>) {
    let Some(letter) = rest[1..].chars().next() else { return (1, Some('\\')) };
    let hex = |digits: usize| {
        let code = rest.get(2..2 + digits).and_then(|h| u32::from_str_radix(h, 16).ok());
        (2 + digits.min(rest.len().saturating_sub(2)), code.and_then(char::from_u32))
    };
    let simple = match letter {
        '0' => '\0',
        'a' => '\u{7}',
        'b' => '\u{8}',
        't' | '\t' => '\t',
        'n' => '\n',
        'v' => '\u{b}',
        'f' => '\u{c}',
        'r' => '\r',
        'e' => '\u{1b}',
        'N' => '\u{85}',
        '_' => '\u{a0}',
        'L' => '\u{2028}',
        'P' => '\u{2029}',
        'x' => return hex(2),
        'u' => return hex(4),
        'U' => return hex(8),
        // An escaped line break resolves to nothing at all.
        '\r' | '\n' => return (2, None),
        other => other,
    };
    (1 + letter.len_utf8(), Some(simple))
}

fn words_in_order(text: &str, tokens: &[Token], base: usize) -> Option<Vec<Stretch>> {
    let mut stretches = Vec::new();
    let mut at = 0;
    let mut blanks: Option<Range<usize>> = None;
    let mut last_end = tokens.first().map_or(0, |t| t.file.start);
    for token in tokens {
        let Some(c) = token.resolved else {
            let start = blanks.map_or(token.file.start, |b| b.start);
            blanks = Some(start..token.file.end);
            continue;
        };
        let rest = text.get(at..)?;
        let gap = if rest.starts_with(c) {
            0
        } else if is_blank(rest) && !c.is_whitespace() {
            // The text is at its end: what follows in the file is a comment.
            break;
        } else {
            rest.find(c).filter(|&gap| is_blank(&rest[..gap]))?
        };
        let file = blanks.take().unwrap_or(last_end..last_end);
        push(&mut stretches, at..at + gap, base + file.start..base + file.end);
        at += gap;
        let (start, end) = (base + token.file.start, base + token.file.end);
        push(&mut stretches, at..at + c.len_utf8(), start..end);
        at += c.len_utf8();
        last_end = token.file.end;
    }
    let rest = text.get(at..)?;
    if !is_blank(rest) {
        return None;
    }
    let end = blanks.map_or(last_end..last_end, |b| b.start..b.start + rest.len().min(b.len()));
    push(&mut stretches, at..text.len(), base + end.start..base + end.end);
    Some(stretches)
}

fn is_blank(text: &str) -> bool {
    text.bytes().all(|byte| matches!(byte, b' ' | b'\t' | b'\n'))
}

/// Adds a stretch, joining it to the one before where both are the same bytes as in the file.
fn push(stretches: &mut Vec<Stretch>, text: Range<usize>, file: Range<usize>) {
    if text.is_empty() {
        return;
    }
    let is_verbatim = text.len() == file.len();
    if let Some(last) = stretches.last_mut() {
        let joins = last.text.end == text.start && last.file.end == file.start;
        if joins && is_verbatim && last.text.len() == last.file.len() {
            last.text.end = text.end;
            last.file.end = file.end;
            return;
        }
    }
    stretches.push(Stretch { text, file });
}

#[cfg(test)]
mod tests {
    use crate::document::{Scalar, read_yaml};
    use crate::source::{SourceId, Sources};

    /// The one text of the file, and the file.
    fn only_text(file: &str) -> (Scalar, Sources) {
        let mut sources = Sources::default();
        let id: SourceId = sources.add("x.yaml", file);
        let (root, faults) = read_yaml(&sources, id);
        assert!(faults.is_empty(), "{faults:?}");
        let root = root.unwrap();
        let scalar = root.entries().unwrap()[0].value.scalar().unwrap().clone();
        (scalar, sources)
    }

    #[track_caller]
    fn check(file: &str, resolved: &str, word: &str, written: &str) {
        let (scalar, sources) = only_text(file);
        assert_eq!(scalar.text, resolved);
        let at = scalar.text.find(word).unwrap();
        let span = scalar.span_of(at..at + word.len());
        assert_eq!(sources.slice(span), written, "{span:?} of {file:?}");
    }

    #[test]
    fn words_are_found_in_every_style() {
        check("a: one two\n", "one two", "two", "two");
        check("a: one\n  two # c\n", "one two", "two", "two");
        check("a: 'it''s\n  so'\n", "it's so", "so", "so");
        check("a: 'it''s'\n", "it's", "'", "''");
        check("a: >\n  one\n  two\n\n  three\nb: c\n", "one two\nthree\n", "three", "three");
        check("a: >-\n  # one\n   two\n", "# one\n two", "two", "two");
        check("a: |\n\n  one\n    two\n", "\none\n  two\n", "two", "two");
        check("a: \"\\u00b5m \\\n   two\"\n", "µm two", "two", "two");
        check("a: \"\\u00b5m\"\n", "µm", "µ", "\\u00b5");
        check("a: >\r\n  one\r\n  two\r\n", "one two\n", "two", "two");
        check("höhe: |\n  µm 5 µ\nb: c\n", "µm 5 µ\n", "5 µ", "5 µ");
        check("\u{feff}a: one two\n", "one two", "two", "two");
    }

    #[test]
    fn a_blank_that_stands_for_a_line_break_is_the_whole_break() {
        check("a: >\n  one\n  two\n", "one two\n", " ", "\n  ");
        check("a: >\n  one\n  two\n", "one two\n", "one two", "one\n  two");
    }

    #[test]
    fn ends_and_empty_ranges_give_places_too() {
        let (scalar, sources) = only_text("a: >\n  one\n  two\n");
        let end = scalar.text.len();
        assert_eq!(sources.position(scalar.span_of(7..7)), (3, 6));
        // The end of a block is right behind its last word.
        assert_eq!(sources.position(scalar.span_of(end..end)), (3, 6));
        assert_eq!(sources.slice(scalar.span_of(4..99)), "two");
        assert_eq!(sources.position(scalar.span_of(0..0)), (2, 3));
    }
}
