//! Faults that only follow from others, and would go with them: they are not told.

use std::collections::{BTreeMap, BTreeSet};

use crate::diagnostic::{Code, Diagnostic, Label};
use crate::document::raw::{RawEntry, RawHandbook};
use crate::source::{SourceId, Span};

/// Drops from what was found in a handbook what follows from faults in reading it: a key that
/// is missing because what it holds could not be read, or because it was to come from elsewhere
/// in the file; and, where a file could not be read to its end, names and conditions that may
/// stand in the rest of it.
pub(super) fn drop_follow_on(
    raw: &RawHandbook,
    reading: &mut Vec<Diagnostic>,
    found: &mut Vec<Diagnostic>,
) {
    if !raw.is_whole {
        found.retain(|fault| !matches!(fault.code, Code::UnknownName | Code::NeverLeft));
    }
    if reading.is_empty() {
        return;
    }
    let entries = Entries::of(raw);
    drop_borrowed(&entries, reading, found);
    drop_led_by_dropped(&Entries::without_steps(raw), reading, found);
    let mut read: BTreeMap<Span, Vec<&Diagnostic>> = BTreeMap::new();
    for fault in reading.iter() {
        if let Some(entry) = fault.span().and_then(|span| entries.holding(span)) {
            read.entry(entry).or_default().push(fault);
        }
    }
    found.retain(|fault| {
        let Some(key) = key_missing(fault) else { return true };
        let entry = fault.span().and_then(|span| entries.holding(span));
        let said = entry.and_then(|entry| read.get(&entry));
        !said.is_some_and(|said| said.iter().any(|earlier| speaks_of(earlier, &key)))
    });
}

/// Drops keys that are missing from entries into which an alias or a merge key was to bring them.
fn drop_borrowed(entries: &Entries, reading: &mut Vec<Diagnostic>, found: &mut Vec<Diagnostic>) {
    let entry = |fault: &Diagnostic| fault.span().and_then(|span| entries.holding(span));
    let borrows = |fault: &&Diagnostic| {
        let brings = |label: &Label| matches!(label.text.as_str(), "an alias" | "a merge key");
        fault.code == Code::YamlFeature && fault.labels.iter().any(brings)
    };
    let borrowing: BTreeSet<Span> = reading.iter().filter(borrows).filter_map(entry).collect();
    let stays = |fault: &Diagnostic| {
        !matches!(fault.code, Code::MissingKey | Code::MissingBasis)
            || entry(fault).is_none_or(|entry| !borrowing.contains(&entry))
    };
    reading.retain(stays);
    found.retain(stays);
}

/// The key, in its quotes, that a fault says is missing.
fn key_missing(fault: &Diagnostic) -> Option<String> {
    if !matches!(fault.code, Code::MissingKey | Code::MissingBasis) {
        return None;
    }
    let label = &fault.labels.first()?.text;
    label.strip_suffix(" is missing").map(str::to_owned)
}

fn speaks_of(fault: &Diagnostic, key: &str) -> bool {
    fault.title.contains(key) || fault.help.as_ref().is_some_and(|help| help.contains(key))
}

/// Of a key that is written twice the second is not read: steps that it names or leads to are
/// not held against its tree.
fn drop_led_by_dropped(whole: &Entries, reading: &[Diagnostic], found: &mut Vec<Diagnostic>) {
    let twice = reading.iter().filter(|fault| fault.code == Code::DuplicateKey);
    let torn: BTreeSet<Span> = twice.filter_map(|fault| whole.holding(fault.span()?)).collect();
    found.retain(|fault| {
        let leads = matches!(fault.code, Code::DanglingStep | Code::UnreachableStep);
        let tree = fault.span().and_then(|span| whole.holding(span));
        !leads || tree.is_none_or(|tree| !torn.contains(&tree))
    });
}

/// Where the entries of a handbook and the steps of its trees begin.
struct Entries {
    starts: BTreeMap<(SourceId, usize), Span>,
}

impl Entries {
    fn of(raw: &RawHandbook) -> Self {
        let mut entries = Self::without_steps(raw);
        for step in raw.trees.iter().flat_map(|tree| &tree.steps) {
            entries.insert(step.id.span);
        }
        entries
    }

    fn without_steps(raw: &RawHandbook) -> Self {
        let mut entries = Self { starts: BTreeMap::new() };
        entries.add(&raw.questions);
        entries.add(&raw.instruments);
        entries.add(&raw.formulas);
        entries.add(&raw.findings);
        entries.add(&raw.causes);
        entries.add(&raw.actions);
        entries.add(&raw.trees);
        entries.add(&raw.cautions);
        entries.add(&raw.sources);
        entries
    }

    fn add<T: RawEntry>(&mut self, entries: &[T]) {
        entries.iter().for_each(|entry| self.insert(entry.id().span));
    }

    fn insert(&mut self, id: Span) {
        self.starts.insert((id.source, id.start), id);
    }

    /// The id of the entry or step that a place lies in.
    fn holding(&self, place: Span) -> Option<Span> {
        let (_, id) = self.starts.range(..=(place.source, place.start)).next_back()?;
        (id.source == place.source).then_some(*id)
    }
}
