//! Faults that only follow from others, and would go with them: they are not told.

use std::collections::BTreeMap;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{RawEntry, RawHandbook};
use crate::source::{SourceId, Span};

/// Drops from what was found in a handbook what follows from faults in reading it: a key that
/// is missing because what it holds could not be read, and, where a file could not be read to
/// its end, names and conditions that may stand in the rest of it.
pub(super) fn drop_follow_on(
    raw: &RawHandbook,
    reading: &[Diagnostic],
    found: &mut Vec<Diagnostic>,
) {
    if !raw.is_whole {
        found.retain(|fault| !matches!(fault.code, Code::UnknownName | Code::NeverLeft));
    }
    if reading.is_empty() {
        return;
    }
    let entries = Entries::of(raw);
    let mut read: BTreeMap<Span, Vec<&Diagnostic>> = BTreeMap::new();
    for fault in reading {
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

/// Where the entries of a handbook and the steps of its trees begin.
struct Entries {
    starts: BTreeMap<(SourceId, usize), Span>,
}

impl Entries {
    fn of(raw: &RawHandbook) -> Self {
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
        for step in raw.trees.iter().flat_map(|tree| &tree.steps) {
            entries.insert(step.id.span);
        }
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
