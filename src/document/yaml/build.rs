//! From parser events to the tree.

use std::collections::HashMap;
use std::ops::Range;

use saphyr_parser::{Event, Parser, ScalarStyle, Span as Marks};

use super::layout::align;
use super::offsets::Offsets;
use super::{MAX_DEPTH, MAX_TEXT_CHARACTERS};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::{Entry, Key, Node, NodeValue, Scalar, Style};
use crate::source::{SourceId, Span};
use crate::text::count;

/// What came of one pass over a text.
pub(super) struct Built {
    /// The tree, if the text was read to its end.
    pub(super) root: Option<Node>,
    /// Faults of what was read.
    pub(super) faults: Vec<Diagnostic>,
    /// Where and why the parser gave up.
    pub(super) stopped: Option<Stopped>,
}

/// A syntax fault: the parser's reason and the byte that it points at.
pub(super) struct Stopped {
    pub(super) at: usize,
    pub(super) reason: String,
}

/// Reads `text` once. Scalars that touch a `damaged` range become faulty: their fault has been
/// reported.
pub(super) fn build(text: &str, id: SourceId, damaged: &[Range<usize>]) -> Built {
    let offsets = Offsets::new(text);
    let mut builder = Builder {
        text,
        id,
        damaged,
        offsets: &offsets,
        open: Vec::new(),
        root: None,
        documents: 0,
        faults: Vec::new(),
    };
    for event in Parser::new_from_str(offsets.body(text)) {
        // The parser repeats its error for ever, so the first one ends the pass.
        let (event, marks) = match event {
            Ok(event) => event,
            Err(error) => {
                let at = offsets.byte(error.marker().index());
                let stopped = Some(Stopped { at, reason: error.info().to_owned() });
                return Built { root: None, faults: builder.faults, stopped };
            }
        };
        if matches!(event, Event::StreamEnd) {
            break;
        }
        if !builder.take(event, marks) {
            return Built { root: None, faults: builder.faults, stopped: None };
        }
    }
    let nothing = Node { span: Span::new(id, 0, 0), value: NodeValue::Null };
    Built { root: Some(builder.root.unwrap_or(nothing)), faults: builder.faults, stopped: None }
}

/// A map or list whose end has not been met.
enum Open {
    List { start: usize, items: Vec<Node> },
    Map { start: usize, entries: Vec<Entry>, seen: HashMap<String, Span>, key: Awaited },
}

/// What a map expects next.
enum Awaited {
    Key,
    Value(Key),
    /// The value of a key that was refused; it is read and dropped.
    Dropped,
}

struct Builder<'t> {
    text: &'t str,
    id: SourceId,
    damaged: &'t [Range<usize>],
    offsets: &'t Offsets,
    open: Vec<Open>,
    root: Option<Node>,
    documents: usize,
    faults: Vec<Diagnostic>,
}

impl Builder<'_> {
    /// Takes one event; false when reading on makes no sense.
    fn take(&mut self, event: Event<'_>, marks: Marks) -> bool {
        let start = self.offsets.byte(marks.start.index());
        let end = self.offsets.byte(marks.end.index());
        match event {
            Event::DocumentStart(_) => return self.start_document(start),
            Event::Alias(_) => {
                self.refuse_feature(start, "an alias", "Handbooks repeat what they mean.");
                self.complete(Node { span: self.span(start, end), value: NodeValue::Faulty });
            }
            Event::Scalar(text, style, anchor, tag) => {
                let is_refused = self.refuse_marks(start, anchor != 0, tag.is_some());
                let node = self.scalar(&text, style, start..end, is_refused);
                self.complete(node);
            }
            Event::SequenceStart(anchor, tag) => {
                self.refuse_marks(start, anchor != 0, tag.is_some());
                self.open.push(Open::List { start, items: Vec::new() });
                return self.is_shallow(start);
            }
            Event::MappingStart(anchor, tag) => {
                self.refuse_marks(start, anchor != 0, tag.is_some());
                let (entries, seen) = (Vec::new(), HashMap::new());
                self.open.push(Open::Map { start, entries, seen, key: Awaited::Key });
                return self.is_shallow(start);
            }
            Event::SequenceEnd | Event::MappingEnd => self.close(start),
            Event::DocumentEnd | Event::StreamStart | Event::StreamEnd | Event::Nothing => {}
        }
        true
    }

    fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.id, start, end)
    }

    /// The word that stands at a byte.
    fn word_at(&self, start: usize) -> Span {
        let rest = self.text.get(start..).unwrap_or("");
        let length = rest.find([' ', '\t', '\r', '\n', ',', ']', '}']).unwrap_or(rest.len());
        self.span(start, start + length)
    }

    fn start_document(&mut self, start: usize) -> bool {
        self.documents += 1;
        if self.documents == 1 {
            return true;
        }
        self.faults.push(
            Diagnostic::at(
                Code::YamlFeature,
                "a file holds more than one YAML document",
                self.word_at(start),
                "a second document starts here",
            )
            .note("a handbook's file is one document; what follows would not be read"),
        );
        false
    }

    fn refuse_feature(&mut self, start: usize, what: &str, note: &str) {
        let span = self.word_at(start);
        let title = format!("{what} is a YAML feature that handbooks don't use");
        self.faults.push(Diagnostic::at(Code::YamlFeature, title, span, what).note(note));
    }

    fn refuse_marks(&mut self, start: usize, has_anchor: bool, has_tag: bool) -> bool {
        if has_tag {
            let note = "YAML would drop the word behind the `!`; in a formula, write `not`";
            self.refuse_feature(start, "a tag", note);
        } else if has_anchor {
            self.refuse_feature(start, "an anchor", "a text that starts with `&` needs quotes");
        }
        has_tag || has_anchor
    }

    fn is_shallow(&mut self, start: usize) -> bool {
        if self.open.len() <= MAX_DEPTH {
            return true;
        }
        let title = format!("maps and lists stand more than {MAX_DEPTH} deep in each other");
        let span = self.span(start, start);
        self.faults.push(Diagnostic::at(Code::TooLarge, title, span, "too deep from here on"));
        false
    }

    fn scalar(
        &mut self,
        text: &str,
        style: ScalarStyle,
        place: Range<usize>,
        is_refused: bool,
    ) -> Node {
        let style = match style {
            ScalarStyle::Plain => Style::Plain,
            ScalarStyle::SingleQuoted => Style::Single,
            ScalarStyle::DoubleQuoted => Style::Double,
            ScalarStyle::Literal => Style::Literal,
            ScalarStyle::Folded => Style::Folded,
        };
        if style == Style::Plain && text.is_empty() {
            let span = self.span(place.start, place.start);
            return Node { span, value: NodeValue::Null };
        }
        let span = self.written(&place, style);
        if is_refused || self.damaged.iter().any(|d| d.start < place.end && place.start < d.end) {
            return Node { span, value: NodeValue::Faulty };
        }
        if style == Style::Plain && matches!(text, "~" | "null" | "Null" | "NULL") {
            return Node { span, value: NodeValue::Null };
        }
        let length = text.chars().count();
        if length > MAX_TEXT_CHARACTERS {
            let title = format!(
                "a text is {} long, and handbooks take up to {MAX_TEXT_CHARACTERS}",
                count(length, "character")
            );
            let start = self.span(span.start, span.start);
            self.faults.push(Diagnostic::at(Code::TooLarge, title, start, "it starts here"));
            return Node { span, value: NodeValue::Faulty };
        }
        let written = self.text.get(span.start..span.end).unwrap_or("");
        let stretches = align(text, written, span.start, style);
        let scalar = Scalar::new(text.to_owned(), style, span, stretches);
        Node { span, value: NodeValue::Scalar(scalar) }
    }

    /// The place of a scalar; the parser draws a block up to the next thing in the file.
    fn written(&self, place: &Range<usize>, style: Style) -> Span {
        let is_block = matches!(style, Style::Literal | Style::Folded);
        let written = self.text.get(place.clone()).unwrap_or("");
        let kept = if is_block { written.trim_end().len() } else { written.len() };
        self.span(place.start, place.start + kept)
    }

    /// Ends the innermost map or list; its own end mark is at `at`, or at the next thing in
    /// the file if it is written in lines.
    fn close(&mut self, at: usize) {
        let (start, value, last) = match self.open.pop() {
            Some(Open::List { start, items }) => {
                let last = items.last().map(|item| item.span.end);
                (start, NodeValue::List(items), last)
            }
            Some(Open::Map { start, entries, .. }) => {
                let last = entries.last().map(|e| e.value.span.end.max(e.key.span.end));
                (start, NodeValue::Map(entries), last)
            }
            None => return,
        };
        let end = match self.text.as_bytes().get(start) {
            Some(b'[' | b'{') => self.text[at..].find([']', '}']).map(|found| at + found + 1),
            _ => last,
        };
        let span = self.span(start, end.unwrap_or(at).max(start));
        self.complete(Node { span, value });
    }

    /// Puts a finished node where it belongs.
    fn complete(&mut self, node: Node) {
        match self.open.last_mut() {
            None => self.root = Some(node),
            Some(Open::List { items, .. }) => items.push(node),
            Some(Open::Map { key: Awaited::Key, .. }) => {
                let next = self.read_key(node);
                if let Some(Open::Map { key, .. }) = self.open.last_mut() {
                    *key = next;
                }
            }
            Some(Open::Map { entries, key, .. }) => {
                if let Awaited::Value(key) = std::mem::replace(key, Awaited::Key) {
                    let value = match node.value {
                        NodeValue::Null => Node { span: key.span.after(), ..node },
                        _ => node,
                    };
                    entries.push(Entry { key, value });
                }
            }
        }
    }

    fn read_key(&mut self, node: Node) -> Awaited {
        let scalar = match node.value {
            NodeValue::Scalar(scalar) => scalar,
            NodeValue::Faulty => {
                let text = self.text.get(node.span.start..node.span.end).unwrap_or("");
                return Awaited::Value(Key { text: text.to_owned(), span: node.span });
            }
            NodeValue::Null | NodeValue::List(_) | NodeValue::Map(_) => {
                let title = format!("{} stands where a key belongs", node.shape());
                let fault = Diagnostic::at(Code::YamlFeature, title, node.span, "not a name");
                self.faults.push(fault.note("keys are words"));
                return Awaited::Dropped;
            }
        };
        if scalar.text == "<<" && scalar.style == Style::Plain {
            self.refuse_feature(node.span.start, "a merge key", "Write out what it would bring.");
            return Awaited::Dropped;
        }
        let Some(Open::Map { seen, .. }) = self.open.last_mut() else { return Awaited::Dropped };
        if let Some(&first) = seen.get(&scalar.text) {
            let title = format!("`{}` is written twice in one map", scalar.text);
            let fault = Diagnostic::at(Code::DuplicateKey, title, node.span, "second time");
            self.faults.push(fault.and_at(first, "first time"));
            return Awaited::Dropped;
        }
        seen.insert(scalar.text.clone(), node.span);
        Awaited::Value(Key { text: scalar.text, span: node.span })
    }
}
