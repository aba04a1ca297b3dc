//! Keys of a file that are no section: a section with a slip in its name, and entries that stand at
//! the left edge. They are taken as they were meant, so that nothing else seems to be missing.

use super::entry::keys_of;
use super::{FILE_KEYS, Section};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::yaml::edge_fault;
use crate::document::{Entry, Node, NodeValue};

/// Puts the keys of a file right, each with its fault.
pub(super) fn put_sections_right(root: &mut Node, faults: &mut Vec<Diagnostic>) {
    let NodeValue::Map(entries) = &mut root.value else { return };
    if entries.iter().all(|entry| is_known(&entry.key.text)) {
        return;
    }
    let written: Vec<String> = entries.iter().map(|entry| entry.key.text.clone()).collect();
    let is_open = |name: &str| !written.iter().any(|key| key == name);
    let mut meant: Vec<Entry> = Vec::with_capacity(entries.len());
    for mut entry in entries.drain(..) {
        let holds_entries = matches!(entry.value.value, NodeValue::Map(_));
        if is_known(&entry.key.text) || !holds_entries {
            meant.push(entry);
            continue;
        }
        let sections = Section::ALL.iter().map(|section| section.key());
        let near = near_name(&entry.key.text, sections.filter(|key| is_open(key)));
        if let Some(section) = near {
            faults.push(misspelt(&entry, section));
            entry.key.text = section.to_owned();
            meant.push(entry);
            continue;
        }
        let above = meant.iter_mut().rev().find_map(|above| {
            let section = Section::ALL.iter().find(|one| one.key() == above.key.text)?;
            Some((*section, above)).filter(|_| is_entry(&entry, *section))
        });
        match above {
            Some((section, above)) => {
                faults.push(edge_fault(&entry.key.text, section, entry.key.span));
                take_in(&mut above.value, entry);
            }
            None => meant.push(entry),
        }
    }
    *entries = meant;
}

fn is_known(key: &str) -> bool {
    FILE_KEYS.iter().any(|known| known.key == key)
}

/// Whether a key holds one of the keys that an entry of a section may have.
fn is_entry(entry: &Entry, section: Section) -> bool {
    let keys = keys_of(section);
    let inside = entry.value.entries().unwrap_or(&[]);
    inside.iter().any(|inner| keys.contains(&inner.key.text.as_str()))
}

/// Adds an entry to those of a section.
fn take_in(section: &mut Node, entry: Entry) {
    match &mut section.value {
        NodeValue::Map(entries) => entries.push(entry),
        NodeValue::Null => section.value = NodeValue::Map(vec![entry]),
        _ => {}
    }
}

fn misspelt(entry: &Entry, section: &str) -> Diagnostic {
    let title = format!("a handbook's file has no key `{}`", entry.key.text);
    Diagnostic::at(Code::UnknownKey, title, entry.key.span, "not a section")
        .note(format!("what stands in it is read as `{section}`"))
        .help(format!("did you mean `{section}`?"))
}
