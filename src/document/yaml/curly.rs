//! Texts in the curly quotes of a word processor, which are letters to YAML.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::quote::{quoted, shortened};
use crate::document::{Node, NodeValue, Style};
use crate::source::Span;
use crate::text::count;

/// Double curly quotes, any of which opens or closes a text in one language or another.
const DOUBLE: [char; 4] = ['\u{201c}', '\u{201d}', '\u{201e}', '\u{201f}'];

/// Single ones that open a text; `\u{2019}` is an apostrophe too.
const SINGLE: [char; 3] = ['\u{2018}', '\u{201a}', '\u{201b}'];

/// How many items of a list may belong to one text that its commas split (limit of ours).
const MOST_PARTS: usize = 16;

/// How many places of one file are shown; the same hand made them all.
const MOST_SHOWN: usize = 5;

/// One fault for all texts of a file that stand wholly in curly quotes; each is marked faulty.
///
/// Such quotes inside a text, in a block or within straight quotes are prose, and stay.
pub(super) fn find(text: &str, root: &mut Node) -> Option<Diagnostic> {
    let mut places = Vec::new();
    collect(text, root, &mut places);
    let first = *places.first()?;
    let written = &text[first.start..first.end];
    let title = match places.len() {
        1 => format!("`{}` stands in curly quotes", shortened(written)),
        many => format!("{} stand in curly quotes", count(many, "text")),
    };
    let mut fault = Diagnostic::at(Code::CurlyQuotes, title, first, "letters of the text to YAML");
    for place in places.iter().take(MOST_SHOWN).skip(1) {
        fault = fault.and_at(*place, "here too");
    }
    let inside = &written[first_len(written)..written.len() - last_len(written)];
    let straight = quoted(inside).map(|quoted| format!(": `{quoted}`")).unwrap_or_default();
    Some(
        fault
            .note("only straight quotes, `\"` or `'`, go around a text; curly ones would be shown")
            .help(format!(
                "write straight quotes{straight}; where the curly ones are to be read, put \
                 straight ones around them"
            )),
    )
}

fn first_len(text: &str) -> usize {
    text.chars().next().map_or(0, char::len_utf8)
}

fn last_len(text: &str) -> usize {
    text.chars().next_back().map_or(0, char::len_utf8)
}

fn collect(text: &str, node: &mut Node, places: &mut Vec<Span>) {
    match &mut node.value {
        NodeValue::List(items) => {
            if text[node.span.start..].starts_with('[') {
                collect_split(text, items, places);
            }
            items.iter_mut().for_each(|item| collect(text, item, places));
        }
        NodeValue::Map(entries) => {
            entries.iter_mut().for_each(|entry| collect(text, &mut entry.value, places));
        }
        NodeValue::Scalar(scalar) if scalar.style == Style::Plain && is_wholly(&scalar.text) => {
            places.push(scalar.span);
            node.value = NodeValue::Faulty;
        }
        NodeValue::Scalar(_) | NodeValue::Null | NodeValue::Faulty => {}
    }
}

/// `[“oil, 1 L”]`: items that one pair of quotes goes around.
fn collect_split(text: &str, items: &mut [Node], places: &mut Vec<Span>) {
    let mut from = 0;
    while from < items.len() {
        let last = items.len().min(from + MOST_PARTS);
        let ends = (from + 1..last).find(|&to| {
            let span = items[from].span.to(items[to].span);
            let are_plain = items[from..=to].iter().all(is_plain);
            are_plain && text.get(span.start..span.end).is_some_and(is_wholly)
        });
        if let Some(to) = ends {
            places.push(items[from].span.to(items[to].span));
            items[from..=to].iter_mut().for_each(|item| item.value = NodeValue::Faulty);
        }
        from = ends.unwrap_or(from) + 1;
    }
}

fn is_plain(node: &Node) -> bool {
    node.scalar().is_some_and(|scalar| scalar.style == Style::Plain)
}

/// Whether one pair of curly quotes goes around a text, and no other of their kind is in it but
/// apostrophes.
fn is_wholly(text: &str) -> bool {
    let mut inside = text.chars();
    let (Some(first), Some(last)) = (inside.next(), inside.next_back()) else { return false };
    let is_double = |c: char| DOUBLE.contains(&c);
    let is_single = |c: char| SINGLE.contains(&c);
    let goes_around = is_double(first) && is_double(last)
        || is_single(first) && (is_single(last) || last == '\u{2019}');
    goes_around && !inside.any(if is_double(first) { is_double } else { is_single })
}

#[cfg(test)]
mod tests {
    use super::is_wholly;

    #[test]
    fn a_pair_around_all_is_none_of_prose() {
        for text in ["“a”", "„a“", "”a”", "‘it’s a’", "“it’s ‘a’”", "“”", "‚a‘"]
        {
            assert!(is_wholly(text), "{text}");
        }
        for text in ["“a” or “b”", "a “b”", "“a” b", "“", "a", "", "’a’", "\"a\"", "“a’"]
        {
            assert!(!is_wholly(text), "{text}");
        }
    }
}
