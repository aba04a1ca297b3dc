//! Entries whose lines stand in the wrong column: YAML reads them as something else in silence.

use std::borrow::Cow;

use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::{Entry, Node, NodeValue};

/// How messages name what is read.
pub(super) struct Named<'a> {
    /// What one entry is called: `step`.
    pub one: &'a str,
    /// The keys that an entry may have.
    pub keys: &'a [&'a str],
}

/// The entries as they were meant: keys that stand in the column of their entry go into it, and
/// an entry that stands among the keys of another comes out of it. Each slip is a fault.
pub(super) fn put_right<'n>(
    entries: &'n [Entry],
    named: &Named<'_>,
    faults: &mut Vec<Diagnostic>,
) -> Cow<'n, [Entry]> {
    let is_nested = |inner: &Entry| named.is_nested(inner);
    let nests = |entry: &Entry| entry.value.entries().unwrap_or(&[]).iter().any(is_nested);
    if !(0..entries.len()).any(|at| named.keys_behind(entries, at) > 0 || nests(&entries[at])) {
        return Cow::Borrowed(entries);
    }
    let mut meant = Vec::new();
    let mut at = 0;
    while let Some(entry) = entries.get(at) {
        let keys = named.keys_behind(entries, at);
        at += 1 + keys;
        match keys {
            0 => named.take_out(entry, &mut meant, faults),
            _ => meant.push(named.put_in(entry, &entries[at - keys..at], faults)),
        }
    }
    Cow::Owned(meant)
}

impl Named<'_> {
    /// How many keys of an entry without anything in it follow it in its own column.
    fn keys_behind(&self, entries: &[Entry], at: usize) -> usize {
        let is_empty = entries.get(at).is_some_and(|entry| entry.value.value == NodeValue::Null);
        let behind = entries.get(at + 1..).unwrap_or(&[]).iter();
        let is_lost = |entry: &&Entry| self.is_key(&entry.key.text) && !self.is_entry(entry);
        if is_empty { behind.take_while(is_lost).count() } else { 0 }
    }

    fn is_key(&self, key: &str) -> bool {
        self.keys.contains(&key)
    }

    fn is_entry(&self, entry: &Entry) -> bool {
        entry.value.entries().is_some_and(|all| all.iter().any(|e| self.is_key(&e.key.text)))
    }

    fn is_nested(&self, inner: &Entry) -> bool {
        // A mistyped key may hold a map of keys too.
        let is_mistyped = || near_name(&inner.key.text, self.keys.iter().copied()).is_some();
        !self.is_key(&inner.key.text) && self.is_entry(inner) && !is_mistyped()
    }

    fn put_in(&self, entry: &Entry, keys: &[Entry], faults: &mut Vec<Diagnostic>) -> Entry {
        let title =
            format!("the keys of {} `{}` stand in its own column", self.one, entry.key.text);
        let label = "move this line, and those of its other keys, two spaces to the right";
        let span = keys.first().map_or(entry.key.span, |first| first.key.span);
        faults.push(
            Diagnostic::at(Code::WrongShape, title, span, label)
                .and_at(entry.key.span, "nothing stands in it")
                .note("what belongs to an entry stands deeper than its id"),
        );
        let whole = keys.last().map_or(span, |last| span.to(last.value.span));
        Entry {
            key: entry.key.clone(),
            value: Node { span: whole, value: NodeValue::Map(keys.to_vec()) },
        }
    }

    fn take_out(&self, entry: &Entry, meant: &mut Vec<Entry>, faults: &mut Vec<Diagnostic>) {
        let inside = entry.value.entries().unwrap_or(&[]);
        let (nested, own): (Vec<Entry>, Vec<Entry>) =
            inside.iter().cloned().partition(|inner| self.is_nested(inner));
        if nested.is_empty() {
            meant.push(entry.clone());
            return;
        }
        for inner in &nested {
            let (one, id) = (self.one, &inner.key.text);
            let title = format!("{one} `{id}` stands among the keys of {one} `{}`", entry.key.text);
            let label = "move this line, and those below that belong to it, to the left";
            faults.push(
                Diagnostic::at(Code::WrongShape, title, inner.key.span, label)
                    .and_at(entry.key.span, "ids stand in this column"),
            );
        }
        let value = Node { span: entry.value.span, value: NodeValue::Map(own) };
        meant.push(Entry { key: entry.key.clone(), value });
        nested.iter().for_each(|inner| self.take_out(inner, meant, faults));
    }
}
