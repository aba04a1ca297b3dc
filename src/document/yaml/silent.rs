//! The slips that YAML passes over in silence: what it reads is not what was written.

use super::unspaced;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::quote::{put_in_quotes, shortened};
use crate::document::{Entry, Node, NodeValue, Scalar, Style};
use crate::source::Span;

/// Looks through a tree for texts that lost something, reports each, and marks it faulty.
pub(super) fn find_slips(text: &str, node: &mut Node, faults: &mut Vec<Diagnostic>) {
    let fault = match &node.value {
        NodeValue::Scalar(scalar) => cut_at_hash(text, scalar).or(indented_block(text, scalar)),
        NodeValue::Null => only_a_hash(text, node.span),
        _ => None,
    };
    if let Some(fault) = fault {
        faults.push(fault);
        node.value = NodeValue::Faulty;
        return;
    }
    match &mut node.value {
        NodeValue::List(items) => {
            for item in items {
                find_slips(text, item, faults);
            }
        }
        NodeValue::Map(entries) => {
            if text[node.span.start..].starts_with('{') {
                unspaced::part(entries, faults);
                join_splits(text, entries, faults);
            }
            for entry in entries {
                find_slips(text, &mut entry.value, faults);
            }
        }
        NodeValue::Null | NodeValue::Faulty | NodeValue::Scalar(_) => {}
    }
}

/// The comment that follows on the line and starts with a letter or digit right after its `#`.
fn glued_comment(text: &str, end: usize) -> Option<(usize, &str)> {
    let rest = text.get(end..)?;
    let comment = rest.trim_start_matches([' ', '\t']);
    let start = end + rest.len() - comment.len();
    let is_glued = comment.strip_prefix('#')?.starts_with(char::is_alphanumeric);
    (is_glued && start > end).then(|| (start, comment.lines().next().unwrap_or("").trim_end()))
}

/// `Swap hose #2`
fn cut_at_hash(text: &str, scalar: &Scalar) -> Option<Diagnostic> {
    if scalar.style != Style::Plain {
        return None;
    }
    let (start, lost) = glued_comment(text, scalar.span.end)?;
    let whole = &text[scalar.span.start..start + lost.len()];
    let fault = Diagnostic::at(
        Code::CutAtHash,
        format!("YAML drops `{}` from a text", shortened(lost)),
        Span::new(scalar.span.source, start, start + lost.len()),
        "a space and `#` start a comment",
    )
    .note(format!("what is left is `{}`", shortened(&scalar.text)));
    let mend = put_in_quotes("", whole);
    Some(fault.help(format!("{mend}; if it is a comment, write a space after its `#`")))
}

/// `do: #2 is the blue hose`
fn only_a_hash(text: &str, span: Span) -> Option<Diagnostic> {
    let behind = text.get(span.end..)?.strip_prefix(':').map_or(span.end, |_| span.end + 1);
    let (start, lost) = glued_comment(text, behind)?;
    let span = Span::new(span.source, start, start + lost.len());
    let fault = Diagnostic::at(
        Code::CutAtHash,
        format!("YAML drops `{}`, and nothing is left of the text", shortened(lost)),
        span,
        "a space and `#` start a comment",
    );
    Some(fault.help(put_in_quotes("", lost)))
}

/// `when: >5`: a digit behind the sign says how deep a block is indented.
fn indented_block(text: &str, scalar: &Scalar) -> Option<Diagnostic> {
    if scalar.style != Style::Folded || !scalar.text.trim().is_empty() {
        return None;
    }
    // At the end of a file the parser places an empty block at its sign, else behind it.
    let is_at_sign = text.get(scalar.span.start..)?.starts_with('>');
    let end = if is_at_sign { scalar.span.end } else { scalar.span.start };
    let before = text.get(..end)?.trim_end();
    let line_start = before.rfind('\n').map_or(0, |n| n + 1);
    let line = &before[line_start..];
    let sign = line.rfind('>')?;
    let behind = &line[sign + 1..];
    if behind.is_empty() || !behind.chars().all(|c| c.is_ascii_digit()) {
        return None;
    }
    let span = Span::new(scalar.span.source, line_start + sign, line_start + line.len());
    let written = &line[sign..];
    let fault = Diagnostic::at(
        Code::BlockForComparison,
        format!("YAML reads `{written}` as the start of a folded block"),
        span,
        "nothing stands before the `>`",
    );
    Some(fault.help("write what is compared before the sign"))
}

/// `{end: Oil, dry and warm}`: parts without a colon belong to the text before them.
fn join_splits(text: &str, entries: &mut Vec<Entry>, faults: &mut Vec<Diagnostic>) {
    let is_stray = |entry: &Entry| {
        entry.value.value == NodeValue::Null
            && !text[entry.key.span.end..].trim_start().starts_with(':')
    };
    let mut kept: Vec<Entry> = Vec::with_capacity(entries.len());
    let mut lost: Option<Span> = None;
    for entry in entries.drain(..) {
        let is_plain = |whole: &Entry| matches!(&whole.value.value, NodeValue::Scalar(s) if s.style == Style::Plain);
        if is_stray(&entry) && kept.last().is_some_and(is_plain) {
            lost = Some(lost.map_or(entry.key.span, |span| span.to(entry.key.span)));
            continue;
        }
        report_split(text, kept.last_mut(), lost.take(), faults);
        kept.push(entry);
    }
    report_split(text, kept.last_mut(), lost, faults);
    *entries = kept;
}

fn report_split(
    text: &str,
    whole: Option<&mut Entry>,
    lost: Option<Span>,
    faults: &mut Vec<Diagnostic>,
) {
    if let (Some(whole), Some(lost)) = (whole, lost) {
        faults.push(split_at_comma(text, whole, lost));
        whole.value.value = NodeValue::Faulty;
    }
}

fn split_at_comma(text: &str, whole: &Entry, lost: Span) -> Diagnostic {
    let start = whole.value.span.start;
    let written = &text[start..lost.end];
    let left = &text[start..whole.value.span.end];
    let key = &whole.key.text;
    let fault = Diagnostic::at(
        Code::SplitAtComma,
        format!("YAML splits `{}` at the comma", shortened(written)),
        lost,
        format!("not part of `{key}`"),
    )
    .note(format!(
        "between `{{` and `}}` a comma starts the next key; `{key}` is only `{}`",
        shortened(left)
    ));
    let is_decimal = |part: &str| part.trim().bytes().all(|b| b.is_ascii_digit());
    if is_decimal(left) && is_decimal(&text[lost.start..lost.end]) {
        let decimal = format!("{left}.{}", &text[lost.start..lost.end]);
        return fault.help(format!("write a decimal point: `{key}: {decimal}`"));
    }
    fault.help(put_in_quotes(&format!("{key}: "), written))
}
