//! Taking a tree apart, collecting every fault on the way.

use super::quote::shortened;
use super::raw::{Holds, Key as KnownKey};
use super::shape::{read_id, read_ids, read_text, read_texts, wrong_shape};
use super::{Entry, Key, Node, Scalar, Spanned};
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
    known: Vec<&'static KnownKey>,
    missing: Vec<&'static str>,
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
        let (possible, known, missing) = (Vec::new(), Vec::new(), Vec::new());
        Self { what, place, entries, possible, known, missing, faults }
    }

    /// Takes keys from a table: they are possible from here on, and [`finish`](Self::finish)
    /// reports those that must be written and are not.
    pub fn know(&mut self, keys: &'static [KnownKey]) {
        self.known.extend(keys);
        for key in keys {
            if self.entry(key.key).is_none() && key.is_required && self.entries.is_some() {
                self.missing.push(key.key);
            }
        }
    }

    /// Whoever reads a key as something else than its table says has made a slip.
    fn is_as_known(&self, key: &str, fits: impl Fn(Holds) -> bool) -> bool {
        let known = self.known.iter().find(|known| known.key == key);
        self.known.is_empty() || known.is_some_and(|known| fits(known.holds))
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

    /// Notes keys that must be written; [`finish`](Self::finish) reports those that are not.
    pub fn require(&mut self, keys: &[&'static str]) {
        for key in keys {
            if self.entry(key).is_none() && self.entries.is_some() {
                self.missing.push(key);
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
        debug_assert!(self.is_as_known(key, |holds| matches!(
            holds,
            Holds::Text | Holds::Word(_) | Holds::Flag | Holds::YesNo | Holds::WholeNumber
        )));
        let entry = self.entry(key)?;
        read_text(&entry.value, entry.key.span, &self.of(key), self.faults)
    }

    /// An id.
    pub fn id(&mut self, key: &'static str) -> Option<Spanned<String>> {
        debug_assert!(self.is_as_known(key, |holds| matches!(
            holds,
            Holds::Id | Holds::Word(_) | Holds::Basis | Holds::IdOrIds
        )));
        let entry = self.entry(key)?;
        read_id(&entry.value, entry.key.span, &self.of(key), self.faults)
    }

    /// A list of ids, empty if the key is absent.
    pub fn ids(&mut self, key: &'static str) -> Vec<Spanned<String>> {
        debug_assert!(self.is_as_known(key, |holds| matches!(holds, Holds::Ids | Holds::IdOrIds)));
        let Some(entry) = self.entry(key) else { return Vec::new() };
        read_ids(&entry.value, entry.key.span, &self.of(key), self.faults)
    }

    /// A list of texts, empty if the key is absent.
    pub fn texts(&mut self, key: &'static str) -> Vec<Scalar> {
        debug_assert!(self.is_as_known(key, |holds| matches!(holds, Holds::Texts)));
        let Some(entry) = self.entry(key) else { return Vec::new() };
        read_texts(&entry.value, entry.key.span, &self.of(key), self.faults)
    }

    /// The entries of a map behind a key, empty if the key is absent.
    pub fn map(&mut self, key: &'static str) -> &'n [Entry] {
        debug_assert!(self.is_as_known(key, is_map));
        let Some(entry) = self.entry(key) else { return &[] };
        if entry.value.entries().is_none() {
            let what = self.of(key);
            wrong_shape(&entry.value, entry.key.span, &what, "a map of keys", self.faults);
        }
        entry.value.entries().unwrap_or(&[])
    }

    /// `true` or `false`.
    pub fn flag(&mut self, key: &'static str) -> Option<Spanned<bool>> {
        debug_assert!(self.is_as_known(key, |holds| matches!(holds, Holds::Flag)));
        let text = self.text(key)?;
        let value = match text.text.trim() {
            "true" => true,
            "false" => false,
            other => {
                let title = format!("{} is `{}`", self.of(key), shortened(other));
                let label = "`true` or `false` belongs here";
                let meant = match other {
                    "yes" | "on" | "True" | "TRUE" => Some("true"),
                    "no" | "off" | "False" | "FALSE" => Some("false"),
                    _ => None,
                };
                let fault = Diagnostic::at(Code::UnknownWord, title, text.span, label);
                self.faults.push(fault.maybe_help(meant.map(|word| format!("write `{word}`"))));
                return None;
            }
        };
        Some(Spanned::new(value, text.span))
    }

    /// `true` or `false`, or the words of an answer for them.
    pub fn yes_no(&mut self, key: &'static str) -> Option<Spanned<bool>> {
        debug_assert!(self.is_as_known(key, |holds| matches!(holds, Holds::YesNo)));
        let text = self.text(key)?;
        let value = match text.text.trim() {
            "true" | "yes" => true,
            "false" | "no" => false,
            other => {
                let title = format!("{} is `{}`", self.of(key), shortened(other));
                let label = "`true`, `false`, `yes` or `no` belongs here";
                self.faults.push(Diagnostic::at(Code::UnknownWord, title, text.span, label));
                return None;
            }
        };
        Some(Spanned::new(value, text.span))
    }

    /// A whole number from 0 on.
    pub fn whole_number(&mut self, key: &'static str) -> Option<Spanned<u32>> {
        debug_assert!(self.is_as_known(key, |holds| matches!(holds, Holds::WholeNumber)));
        let text = self.text(key)?;
        if let Ok(value) = text.text.trim().parse() {
            return Some(Spanned::new(value, text.span));
        }
        let title = format!("{} is `{}`", self.of(key), shortened(&text.text));
        let label = "a whole number belongs here";
        self.faults.push(Diagnostic::at(Code::WrongShape, title, text.span, label));
        None
    }

    /// Reports keys that no method has asked for, and keys that must be written and are not;
    /// a mistyped key is not reported as missing too.
    pub fn finish(self) {
        let Self { what, place, entries, mut possible, known: _, mut missing, faults } = self;
        let is_open = |name: &&str| !entries.unwrap_or(&[]).iter().any(|e| e.key.text == *name);
        possible.sort_unstable();
        let open: Vec<&str> = possible.iter().copied().filter(is_open).collect();
        for Entry { key, .. } in entries.unwrap_or(&[]) {
            if possible.contains(&key.text.as_str()) {
                continue;
            }
            let near = near_name(&key.text, open.iter().copied());
            let near = near.or_else(|| other_word(&key.text).filter(|word| open.contains(word)));
            missing.retain(|name| Some(*name) != near);
            faults.push(unknown_key(key, &what, &possible, near));
        }
        for key in missing {
            let title = format!("{what} has no `{key}`");
            let label = format!("`{key}` belongs here");
            faults.push(Diagnostic::at(Code::MissingKey, title, place, label));
        }
    }

    /// `` `ask` of question `blank_off` ``.
    fn of(&self, key: &str) -> String {
        format!("`{key}` of {}", self.what)
    }
}

/// The key that people mean by a word of another language, or of another map.
fn other_word(key: &str) -> Option<&'static str> {
    Some(match key {
        "then" | "next" | "goto" | "to" => "go",
        "when" => "if",
        "otherwise" | "default" => "else",
        "go" | "goto_step" => "next",
        "rounds" | "max" | "limit" | "times" | "repeat" => "at_most",
        _ => return None,
    })
}

fn is_map(holds: Holds) -> bool {
    matches!(
        holds,
        Holds::TextById
            | Holds::TextByWords
            | Holds::Waivers
            | Holds::Strengths
            | Holds::Factors
            | Holds::Likelihoods
            | Holds::Answers
            | Holds::Basis
            | Holds::Steps
            | Holds::Entries(_)
            | Holds::Map(_)
    )
}

fn unknown_key(key: &Key, what: &str, possible: &[&str], near: Option<&str>) -> Diagnostic {
    let title = format!("{what} has no key `{}`", key.text);
    let names: Vec<String> = possible.iter().map(|name| format!("`{name}`")).collect();
    Diagnostic::at(Code::UnknownKey, title, key.span, "not a key of this entry")
        .note(format!("possible here: {}", list_or(&names)))
        .maybe_help(near.map(|name| format!("did you mean `{name}`?")))
}
