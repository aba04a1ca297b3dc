//! Trees of files that were read before: bytes that hold a [`Node`].
//!
//! The built-in handbook is read when the program is built. What its texts give is kept beside
//! them, and a start only unpacks it.

use super::{Entry, Node, NodeValue};
use crate::source::{SourceId, Span};

/// The bytes of a tree; none if it can't be packed.
#[must_use]
pub fn prepare(root: &Node) -> Option<Vec<u8>> {
    postcard::to_allocvec(root).ok()
}

/// The tree behind bytes of [`prepare`], with every place in the text `id`; none if the bytes are
/// no tree.
#[must_use]
pub fn unpack(bytes: &[u8], id: SourceId) -> Option<Node> {
    let mut root: Node = postcard::from_bytes(bytes).ok()?;
    place_in(&mut root, id);
    Some(root)
}

fn place_in(node: &mut Node, id: SourceId) {
    move_to(&mut node.span, id);
    match &mut node.value {
        NodeValue::Null | NodeValue::Faulty => {}
        NodeValue::Scalar(scalar) => move_to(&mut scalar.span, id),
        NodeValue::List(items) => items.iter_mut().for_each(|item| place_in(item, id)),
        NodeValue::Map(entries) => {
            for Entry { key, value } in entries {
                move_to(&mut key.span, id);
                place_in(value, id);
            }
        }
    }
}

fn move_to(span: &mut Span, id: SourceId) {
    *span = Span::new(id, span.start, span.end);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::read_yaml;
    use crate::source::Sources;

    #[test]
    fn an_unpacked_tree_is_the_one_that_reading_gives() {
        let text = "a: [one, 'two''s']\nb: >\n  folded\n  text\nc:\n  d: \"\\u00b5m\"\n  e: ~\n";
        let mut sources = Sources::default();
        let first = sources.add("built", text);
        let packed = read_yaml(&sources, first).0.and_then(|root| prepare(&root)).unwrap();
        sources.add("between", "x");
        let second = sources.add("started", text);
        assert_eq!(unpack(&packed, second), read_yaml(&sources, second).0);
    }

    #[test]
    fn bytes_that_are_no_tree_give_none() {
        let mut sources = Sources::default();
        let id = sources.add("x", "a: 1\n");
        assert_eq!(unpack(&[], id), None);
        assert_eq!(unpack(&[255; 40], id), None);
    }
}
