//! From parser events to the tree.

use std::collections::HashMap;
use std::ops::Range;

use saphyr_parser::{Event, Parser, Span as Marks};

use super::MAX_DEPTH;
use super::leaf::{File, dash_before, leaf};
use super::offsets::Offsets;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::{Entry, Key, Node, NodeValue, Style};
use crate::source::{SourceId, Span};

/// What came of one pass over a text.
pub(super) struct Built {
    /// The tree, if the text was read to its end.
    pub(super) root: Option<Node>,
    /// Faults of what was read.
    pub(super) faults: Vec<Diagnostic>,
    /// Where and why the parser gave up.
    pub(super) stopped: Option<Stopped>,
}

/// A syntax fault.
pub(super) struct Stopped {
    /// The byte that the parser points at.
    pub(super) at: usize,
    /// The parser's reason.
    pub(super) reason: String,
    /// Where the innermost `[` or `{` stands that is still open.
    pub(super) bracket: Option<usize>,
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
                let reason = error.info().to_owned();
                let stopped = Some(Stopped { at, reason, bracket: builder.open_bracket() });
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
                self.refuse_feature(
                    start,
                    "an alias",
                    "write out what it stands for; a text that starts with `*` needs quotes",
                );
                self.complete(Node { span: self.span(start, end), value: NodeValue::Faulty });
            }
            Event::Scalar(text, style, anchor, tag) => {
                let is_refused = self.refuse_marks(start, anchor != 0, tag.is_some());
                let file = File { text: self.text, id: self.id, damaged: self.damaged };
                let mut node = leaf(&file, &text, style, start..end, &mut self.faults);
                if is_refused {
                    node.value = NodeValue::Faulty;
                }
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

    fn open_bracket(&self) -> Option<usize> {
        let (Open::List { start, .. } | Open::Map { start, .. }) = self.open.last()?;
        matches!(self.text.as_bytes().get(*start), Some(b'[' | b'{')).then_some(*start)
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
            if self.offsets.body(self.text).starts_with('%') {
                self.refuse_feature(self.offsets.byte(0), "a directive", "leave the line out");
            }
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
            let note = "YAML drops the `!` and its word; in a formula, write `not`";
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
        self.faults.push(too_deep(self.id, start));
        false
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
            Some(Open::List { items, .. }) => {
                items.push(match node.value {
                    NodeValue::Null if node.span.start == node.span.end => {
                        Node { span: dash_before(self.text, node.span), ..node }
                    }
                    _ => node,
                });
            }
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
            self.refuse_feature(node.span.start, "a merge key", "write out what it would bring");
            return Awaited::Dropped;
        }
        let Some(Open::Map { seen, .. }) = self.open.last_mut() else { return Awaited::Dropped };
        if let Some(&first) = seen.get(&scalar.text) {
            let title = format!("`{}` is written twice in one map", scalar.text);
            let fault = Diagnostic::at(Code::DuplicateKey, title, node.span, "second time");
            self.faults.push(
                fault
                    .and_at(first, "first time")
                    .note("one of them counts: give the second another name, or take it out"),
            );
            return Awaited::Dropped;
        }
        seen.insert(scalar.text.clone(), node.span);
        Awaited::Value(Key { text: scalar.text, span: node.span })
    }
}

/// The fault of a map or list that starts too deep.
pub(super) fn too_deep(id: SourceId, start: usize) -> Diagnostic {
    let title = format!("maps and lists stand more than {MAX_DEPTH} deep in each other");
    Diagnostic::at(Code::TooLarge, title, Span::new(id, start, start), "too deep from here on")
}
