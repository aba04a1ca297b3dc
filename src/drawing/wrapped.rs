//! Texts in rows of a box.

use super::graph::Node;
use crate::text::inert;

/// The text in rows of at most `width` characters; past `most` rows it is cut, and says so.
pub(super) fn rows(text: &str, width: usize, most: usize) -> Vec<String> {
    let text = inert(text);
    let options = textwrap::Options::new(width)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
        .break_words(true);
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut rows: Vec<String> =
        textwrap::wrap(&flat, options).into_iter().map(|row| row.into_owned()).collect();
    if rows.len() > most {
        rows.truncate(most);
        if let Some(last) = rows.last_mut() {
            let kept: String = last.chars().take(width.saturating_sub(4)).collect();
            *last = format!("{} ...", kept.trim_end());
        }
    }
    rows
}

/// What stands in a box: its kind and id, its text, and what its stroke means.
pub(super) fn of_node(node: &Node, width: usize, most: usize) -> Vec<String> {
    let mut all = rows(&node.head(), width, 2);
    all.extend(rows(&node.text, width, most));
    if !node.note.is_empty() {
        all.extend(rows(&format!("[{}]", node.note), width, 3));
    }
    all
}
