//! Taking a tree apart, collecting every fault on the way.

use super::{Entry, Key, Node, NodeValue, Scalar, Spanned};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::source::Span;
use crate::text::list_or;

/// Reads the keys of one map.
///
/// Every method that reads a key reports what is wrong with it and gives nothing then, so that
/// the caller goes on with the next key. [`finish`](Self::finish) reports keys that were never
/// asked for.
///
/// ```
/// use dryhold::document::{MapReader, read_yaml};
/// use dryhold::source::Sources;
/// let mut sources = Sources::default();
/// let id = sources.add("a.yaml", "nmae: Barrel\n");
/// let (root, mut faults) = read_yaml(&sources, id);
/// let root = root.unwrap();
/// let mut reader = MapReader::new(&root, "the barrel", root.span, &mut faults);
/// assert_eq!(reader.text("name"), None);
/// reader.finish();
/// assert_eq!(faults[0].title, "the barrel has no key `nmae`");
/// assert_eq!(faults[0].help.as_deref(), Some("did you mean `name`?"));
/// ```
pub struct MapReader<'n, 'f> {
    what: String,
    place: Span,
    entries: Option<&'n [Entry]>,
    possible: Vec<&'static str>,
    faults: &'f mut Vec<Diagnostic>,
}

impl<'n, 'f> MapReader<'n, 'f> {
    /// A reader of the map in `node`, called `what` in messages (``question `blank_off` ``);
    /// `place` is where missing keys are reported, usually the entry's id.
    ///
    /// Anything but a map is a fault, and every key is absent then.
    pub fn new(
        node: &'n Node,
        what: impl Into<String>,
        place: Span,
        faults: &'f mut Vec<Diagnostic>,
    ) -> Self {
        let what = what.into();
        let entries = node.entries();
        if entries.is_none() {
            wrong_shape(node, place, &what, "a map of keys", faults);
        }
        Self { what, place, entries, possible: Vec::new(), faults }
    }

    /// What the map is called in messages.
    #[must_use]
    pub fn what(&self) -> &str {
        &self.what
    }

    /// Adds a fault that the caller found.
    pub fn fault(&mut self, fault: Diagnostic) {
        self.faults.push(fault);
    }

    /// The faults so far, for readers of parts of this map.
    pub fn faults(&mut self) -> &mut Vec<Diagnostic> {
        self.faults
    }

    /// Whether the key is written, with anything or nothing behind it.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.key_span(key).is_some()
    }

    /// Where the key itself is written.
    #[must_use]
    pub fn key_span(&self, key: &str) -> Option<Span> {
        let entry = self.entries?.iter().find(|entry| entry.key.text == key)?;
        Some(entry.key.span)
    }

    /// Whatever stands behind a key; the key counts as known from here on.
    pub fn entry(&mut self, key: &'static str) -> Option<&'n Entry> {
        if !self.possible.contains(&key) {
            self.possible.push(key);
        }
        self.entries?.iter().find(|entry| entry.key.text == key)
    }

    /// Reports keys that must be written and are not.
    pub fn require(&mut self, keys: &[&'static str]) {
        for key in keys {
            if self.entry(key).is_none() && self.entries.is_some() {
                let title = format!("{} has no `{key}`", self.what);
                let label = format!("`{key}` belongs here");
                self.faults.push(Diagnostic::at(Code::MissingKey, title, self.place, label));
            }
        }
    }

    /// Reports each of these keys that is written together with the key `with`.
    pub fn refuse_together(&mut self, with: &'static str, keys: &[&'static str], why: &str) {
        let Some(first) = self.key_span(with) else { return };
        for key in keys {
            let Some(span) = self.key_span(key) else { continue };
            let title = format!("{} has both `{with}` and `{key}`", self.what);
            let fault = Diagnostic::at(Code::KeysTogether, title, span, "not beside the other");
            self.faults.push(fault.and_at(first, "the other").note(why));
        }
    }

    /// A text; empty is a fault.
    pub fn text(&mut self, key: &'static str) -> Option<Scalar> {
        let entry = self.entry(key)?;
        read_text(&entry.value, entry.key.span, &self.of(key), self.faults)
    }

    /// An id.
    pub fn id(&mut self, key: &'static str) -> Option<Spanned<String>> {
        let entry = self.entry(key)?;
        read_id(&entry.value, entry.key.span, &self.of(key), self.faults)
    }

    /// A list of ids, empty if the key is absent.
    pub fn ids(&mut self, key: &'static str) -> Vec<Spanned<String>> {
        let Some(entry) = self.entry(key) else { return Vec::new() };
        read_ids(&entry.value, entry.key.span, &self.of(key), self.faults)
    }

    /// A list of texts, empty if the key is absent.
    pub fn texts(&mut self, key: &'static str) -> Vec<Scalar> {
        let Some(entry) = self.entry(key) else { return Vec::new() };
        read_texts(&entry.value, entry.key.span, &self.of(key), self.faults)
    }

    /// The entries of a map behind a key, empty if the key is absent.
    pub fn map(&mut self, key: &'static str) -> &'n [Entry] {
        let Some(entry) = self.entry(key) else { return &[] };
        if entry.value.entries().is_none() {
            let what = self.of(key);
            wrong_shape(&entry.value, entry.key.span, &what, "a map of keys", self.faults);
        }
        entry.value.entries().unwrap_or(&[])
    }

    /// `true` or `false`.
    pub fn flag(&mut self, key: &'static str) -> Option<Spanned<bool>> {
        let text = self.text(key)?;
        let value = match text.text.trim() {
            "true" => true,
            "false" => false,
            other => {
                let title = format!("{} is `{other}`", self.of(key));
                let label = "`true` or `false` belongs here";
                self.faults.push(Diagnostic::at(Code::UnknownWord, title, text.span, label));
                return None;
            }
        };
        Some(Spanned::new(value, text.span))
    }

    /// A whole number from 0 on.
    pub fn whole_number(&mut self, key: &'static str) -> Option<Spanned<u32>> {
        let text = self.text(key)?;
        if let Ok(value) = text.text.trim().parse() {
            return Some(Spanned::new(value, text.span));
        }
        let title = format!("{} is `{}`", self.of(key), text.text.trim());
        let label = "a whole number belongs here";
        self.faults.push(Diagnostic::at(Code::WrongShape, title, text.span, label));
        None
    }

    /// Reports keys that no method has asked for.
    pub fn finish(self) {
        for Entry { key, .. } in self.entries.unwrap_or(&[]) {
            if !self.possible.contains(&key.text.as_str()) {
                self.faults.push(unknown_key(key, &self.what, &self.possible));
            }
        }
    }

    /// `` `ask` of question `blank_off` ``.
    fn of(&self, key: &str) -> String {
        format!("`{key}` of {}", self.what)
    }
}

fn unknown_key(key: &Key, what: &str, possible: &[&'static str]) -> Diagnostic {
    let title = format!("{what} has no key `{}`", key.text);
    let near = near_name(&key.text, possible.iter().copied());
    let names: Vec<String> = possible.iter().map(|name| format!("`{name}`")).collect();
    Diagnostic::at(Code::UnknownKey, title, key.span, "not a key of this entry")
        .note(format!("possible here: {}", list_or(&names)))
        .maybe_help(near.map(|name| format!("did you mean `{name}`?")))
}

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
fn nearest_id(word: &str) -> Option<String> {
    let lower = word.trim().to_lowercase();
    let made: String =
        lower.chars().map(|c| if matches!(c, ' ' | '-' | '.') { '_' } else { c }).collect();
    is_id(&made).then_some(made)
}

pub(super) fn check_id(word: &str, span: Span, what: &str, faults: &mut Vec<Diagnostic>) {
    if is_id(word) {
        return;
    }
    faults.push(
        Diagnostic::at(Code::BadId, format!("{what} can't be `{word}`"), span, "not an id")
            .note("an id is a small letter, then small letters, digits and `_`")
            .maybe_help(nearest_id(word).map(|id| format!("write `{id}`"))),
    );
}

/// Reads a text called `what`; `place` is where an absent one is reported.
pub fn read_text(
    node: &Node,
    place: Span,
    what: &str,
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
                None => wrong_shape(node, place, what, "a text", faults),
            }
            None
        }
        NodeValue::List(_) | NodeValue::Faulty => {
            wrong_shape(node, place, what, "a text", faults);
            None
        }
    }
}

fn empty_text(what: &str, place: Span) -> Diagnostic {
    Diagnostic::at(Code::EmptyText, format!("{what} is empty"), place, "nothing stands here")
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
    let title = format!("YAML takes the colon behind `{}` for a key", key.text);
    let label = "a colon and a blank inside a text without quotes";
    let colon = Span::new(key.span.source, key.span.end, key.span.end + 1);
    let fault = Diagnostic::at(Code::ColonInText, title, colon, label);
    let is_plain = !text.contains(['"', '\\']);
    Some(fault.maybe_help(is_plain.then(|| format!("put the text in quotes: `\"{text}\"`"))))
}

/// Reads an id called `what`; `place` is where an absent one is reported.
pub fn read_id(
    node: &Node,
    place: Span,
    what: &str,
    faults: &mut Vec<Diagnostic>,
) -> Option<Spanned<String>> {
    let scalar = read_text(node, place, what, faults)?;
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
    items.iter().filter_map(|item| read_id(item, item.span, what, faults)).collect()
}

/// Reads a list of texts called `what`.
pub fn read_texts(
    node: &Node,
    place: Span,
    what: &str,
    faults: &mut Vec<Diagnostic>,
) -> Vec<Scalar> {
    let items = read_items(node, place, what, "a list of texts", faults);
    items.iter().filter_map(|item| read_text(item, item.span, what, faults)).collect()
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
    let title = format!("{what} is {}", node.shape());
    let label = format!("{} belongs here", belongs.trim_end_matches(','));
    faults.push(Diagnostic::at(Code::WrongShape, title, span, label));
}
