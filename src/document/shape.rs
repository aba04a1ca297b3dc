//! Reading one node as a text, an id or a list, and saying what stands there instead.

use super::quote::{put_in_quotes, shortened};
use super::{Entry, Node, NodeValue, Scalar, Spanned};
use crate::diagnostic::{Code, Diagnostic};
use crate::source::Span;

/// Whether a word can be an id: a small letter, then small letters, digits and `_`.
///
/// ```
/// use dryhold::document::is_id;
/// assert!(is_id("blank_off") && !is_id("Blank off") && !is_id("2nd") && !is_id(""));
/// ```
#[must_use]
pub fn is_id(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_lowercase())
        && word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
}

/// The id nearest to a word, if it has letters to make one of.
///
/// ```
/// use dryhold::document::nearest_id;
/// assert_eq!(nearest_id("Blank-off"), Some("blank_off".to_owned()));
/// assert_eq!(nearest_id("2nd"), None);
/// ```
#[must_use]
pub fn nearest_id(word: &str) -> Option<String> {
    let lower = word.trim().to_lowercase();
    let made: String =
        lower.chars().map(|c| if matches!(c, ' ' | '-' | '.') { '_' } else { c }).collect();
    is_id(&made).then_some(made)
}

/// Whether a word is one of those by which people say that they are not sure.
///
/// ```
/// use dryhold::document::means_not_sure;
/// assert!(means_not_sure("not sure") && means_not_sure("notsure") && !means_not_sure("sure"));
/// ```
#[must_use]
pub fn means_not_sure(word: &str) -> bool {
    let letters: String = word.chars().filter(|c| c.is_alphanumeric()).collect();
    matches!(letters.to_lowercase().as_str(), "notsure" | "unsure" | "dontknow" | "donotknow")
}

pub(super) fn check_id(word: &str, span: Span, what: &str, faults: &mut Vec<Diagnostic>) {
    if is_id(word) {
        return;
    }
    faults.push(
        Diagnostic::at(
            Code::BadId,
            format!("{what} can't be `{}`", shortened(word)),
            span,
            "not an id",
        )
        .note("an id is a small letter, then small letters, digits and `_`")
        .maybe_help(nearest_id(word).filter(|id| id.len() <= 40).map(|id| format!("write `{id}`"))),
    );
}

/// Reads a text called `what`; `place` is where an absent one is reported.
pub fn read_text(
    node: &Node,
    place: Span,
    what: &str,
    faults: &mut Vec<Diagnostic>,
) -> Option<Scalar> {
    read_scalar(node, place, what, "a text", faults)
}

/// Reads a text; `belongs` says in messages what is to stand there.
pub(super) fn read_scalar(
    node: &Node,
    place: Span,
    what: &str,
    belongs: &str,
    faults: &mut Vec<Diagnostic>,
) -> Option<Scalar> {
    match &node.value {
        NodeValue::Scalar(scalar) if scalar.text.trim().is_empty() => {
            faults.push(empty_text(what, place));
            None
        }
        NodeValue::Scalar(scalar) => Some(scalar.clone()),
        NodeValue::Null => {
            faults.push(empty_text(what, place));
            None
        }
        NodeValue::Map(entries) => {
            match text_with_colon(entries) {
                Some(fault) => faults.push(fault),
                None => wrong_shape(node, place, what, belongs, faults),
            }
            None
        }
        NodeValue::List(_) | NodeValue::Faulty => {
            wrong_shape(node, place, what, belongs, faults);
            None
        }
    }
}

fn empty_text(what: &str, place: Span) -> Diagnostic {
    Diagnostic::at(Code::EmptyText, format!("{what} is empty"), place, "a text belongs behind this")
}

/// `- Look at the oil: cloudy?`, which YAML reads as a map.
fn text_with_colon(entries: &[Entry]) -> Option<Diagnostic> {
    let [Entry { key, value }] = entries else { return None };
    let is_prose = key.text.contains(' ') || key.text.starts_with(char::is_uppercase);
    let behind = value.scalar().map_or("", |scalar| scalar.text.trim());
    if !is_prose || behind.contains('\n') {
        return None;
    }
    let text = format!("{}: {behind}", key.text);
    let title = format!("YAML takes `{}:` for a key", shortened(&key.text));
    let label = "a colon and a space inside a text without quotes";
    let colon = Span::new(key.span.source, key.span.end, key.span.end + 1);
    let fault = Diagnostic::at(Code::ColonInText, title, colon, label);
    Some(fault.help(put_in_quotes("", &text)))
}

/// Reads an id called `what`; `place` is where an absent one is reported.
pub fn read_id(
    node: &Node,
    place: Span,
    what: &str,
    faults: &mut Vec<Diagnostic>,
) -> Option<Spanned<String>> {
    let scalar = read_scalar(node, place, what, "an id", faults)?;
    let word = scalar.text.trim();
    check_id(word, scalar.span, what, faults);
    is_id(word).then(|| Spanned::new(word.to_owned(), scalar.span))
}

/// Reads a list of ids called `what`.
pub fn read_ids(
    node: &Node,
    place: Span,
    what: &str,
    faults: &mut Vec<Diagnostic>,
) -> Vec<Spanned<String>> {
    let items = read_items(node, place, what, "a list of ids, such as `[a, b]`,", faults);
    let what = format!("an item of {what}");
    items.iter().filter_map(|item| read_id(item, item.span, &what, faults)).collect()
}

/// Reads a list of texts called `what`.
pub fn read_texts(
    node: &Node,
    place: Span,
    what: &str,
    faults: &mut Vec<Diagnostic>,
) -> Vec<Scalar> {
    let items = read_items(node, place, what, "a list of texts", faults);
    let what = format!("an item of {what}");
    items.iter().filter_map(|item| read_text(item, item.span, &what, faults)).collect()
}

fn read_items<'n>(
    node: &'n Node,
    place: Span,
    what: &str,
    belongs: &str,
    faults: &mut Vec<Diagnostic>,
) -> &'n [Node] {
    if node.items().is_none() {
        wrong_shape(node, place, what, belongs, faults);
        let word = node.scalar().map(|scalar| scalar.text.trim()).filter(|word| is_id(word));
        if let (Some(word), Some(fault)) = (word, faults.last_mut()) {
            fault.help = Some(format!("write `[{word}]`"));
        }
    }
    node.items().unwrap_or(&[])
}

/// Reports a node of the wrong shape: what stands there, and what belongs there. A node whose
/// own fault has been reported is passed over.
pub(super) fn wrong_shape(
    node: &Node,
    place: Span,
    what: &str,
    belongs: &str,
    faults: &mut Vec<Diagnostic>,
) {
    let span = match node.value {
        NodeValue::Faulty => return,
        NodeValue::Null => place,
        _ => node.span,
    };
    let title = match node.value {
        NodeValue::Null => format!("{what} is empty"),
        _ => format!("{what} is {}", node.shape()),
    };
    let label = format!("{belongs} belongs here");
    faults.push(Diagnostic::at(Code::WrongShape, title, span, label));
}
