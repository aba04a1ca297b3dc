//! `{yes:limit}`: in braces YAML takes a colon without a space for a letter of the key.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::shape::is_id;
use crate::document::{Entry, Key, Node, NodeValue, Scalar};
use crate::source::Span;

/// Parts the keys of a map in braces whose colon lacks its space, and reports them together.
pub(super) fn part(entries: &mut [Entry], faults: &mut Vec<Diagnostic>) {
    let mut found: Option<Diagnostic> = None;
    for entry in entries {
        let Some((key, value)) = unspaced(entry) else { continue };
        let (source, start) = (entry.key.span.source, entry.key.span.start);
        let colon = Span::new(source, start + key.len(), start + key.len() + 1);
        found = Some(match found {
            Some(fault) => fault.and_at(colon, "here too"),
            None => fault(&key, &value, colon),
        });
        let scalar = Scalar::verbatim(value, source, colon.end);
        entry.key = Key { text: key, span: Span::new(source, start, colon.start) };
        entry.value = Node { span: scalar.span, value: NodeValue::Scalar(scalar) };
    }
    faults.extend(found);
}

fn unspaced(entry: &Entry) -> Option<(String, String)> {
    let (key, value) = entry.key.text.split_once(':')?;
    let is_whole = entry.key.text.len() == entry.key.span.end - entry.key.span.start;
    let is_slip = entry.value.value == NodeValue::Null && is_id(key) && !value.is_empty();
    (is_slip && is_whole).then(|| (key.to_owned(), value.to_owned()))
}

fn fault(key: &str, value: &str, colon: Span) -> Diagnostic {
    let title = format!("no space stands after the colon of `{key}`");
    Diagnostic::at(Code::NotYaml, title, colon, "a space belongs after this")
        .note("without it, YAML reads on in the key")
        .help(format!("write `{key}: {value}`"))
}
