//! The leaves of the tree: texts with their places, and places without anything.

use std::ops::Range;

use saphyr_parser::ScalarStyle;

use super::MAX_TEXT_CHARACTERS;
use super::layout::align;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::{Node, NodeValue, Scalar, Style};
use crate::source::{SourceId, Span};
use crate::text::{count, is_inert};

/// The file that a leaf stands in.
pub(super) struct File<'t> {
    pub(super) text: &'t str,
    pub(super) id: SourceId,
    /// What was masked, since its fault has been reported.
    pub(super) damaged: &'t [Range<usize>],
}

/// The node of a scalar that the parser resolved to `text` and found at `place`.
pub(super) fn leaf(
    file: &File<'_>,
    text: &str,
    style: ScalarStyle,
    place: Range<usize>,
    faults: &mut Vec<Diagnostic>,
) -> Node {
    let style = match style {
        ScalarStyle::Plain => Style::Plain,
        ScalarStyle::SingleQuoted => Style::Single,
        ScalarStyle::DoubleQuoted => Style::Double,
        ScalarStyle::Literal => Style::Literal,
        ScalarStyle::Folded => Style::Folded,
    };
    if style == Style::Plain && text.is_empty() {
        let span = Span::new(file.id, place.start, place.start);
        return Node { span, value: NodeValue::Null };
    }
    let span = written(file, &place, style);
    if file.damaged.iter().any(|d| d.start < place.end && place.start < d.end) {
        return Node { span, value: NodeValue::Faulty };
    }
    if style == Style::Plain && matches!(text, "~" | "null" | "Null" | "NULL") {
        return Node { span, value: NodeValue::Null };
    }
    if let Some(fault) = unfit(text, span) {
        faults.push(fault);
        return Node { span, value: NodeValue::Faulty };
    }
    let source = file.text.get(span.start..span.end).unwrap_or("");
    let stretches = align(text, source, span.start, style);
    Node { span, value: NodeValue::Scalar(Scalar::new(text.to_owned(), style, span, stretches)) }
}

/// The place of a scalar; the parser draws a block up to the next thing in the file.
fn written(file: &File<'_>, place: &Range<usize>, style: Style) -> Span {
    let is_block = matches!(style, Style::Literal | Style::Folded);
    let written = file.text.get(place.clone()).unwrap_or("");
    let kept = if is_block { written.trim_end().len() } else { written.len() };
    Span::new(file.id, place.start, place.start + kept)
}

/// A text that is too long, or that an escape has put a steering character into.
fn unfit(text: &str, span: Span) -> Option<Diagnostic> {
    let length = text.chars().count();
    if length > MAX_TEXT_CHARACTERS {
        let title = format!(
            "a text is {} long, and handbooks take up to {MAX_TEXT_CHARACTERS}",
            count(length, "character")
        );
        let start = Span::new(span.source, span.start, span.start);
        return Some(Diagnostic::at(Code::TooLarge, title, start, "it starts here"));
    }
    if is_inert(text) {
        return None;
    }
    let unseen = text.chars().find(|c| !is_inert(c.encode_utf8(&mut [0; 4])))?;
    let code = format!("U+{:04X}", u32::from(unseen));
    let title = format!("an escape stands for {code}, which can't be seen or steers a terminal");
    Some(Diagnostic::at(Code::ControlCharacter, title, span, "in these quotes"))
}

/// The dash of an item without anything in it; the parser points at the next thing in the file.
pub(super) fn dash_before(text: &str, next: Span) -> Span {
    const MAX_LINES: usize = 20;
    let mut end = next.start;
    for _ in 0..MAX_LINES {
        let start = text[..end].rfind('\n').map_or(0, |n| n + 1);
        let line = text[start..end].trim_start();
        if line.starts_with('-') {
            let dash = start + text[start..end].find('-').unwrap_or(0);
            return Span::new(next.source, dash, dash + 1);
        }
        end = start.saturating_sub(1);
    }
    next
}
