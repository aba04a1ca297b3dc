//! What two handbooks say differently, entry by entry and key by key.

mod steps;

use std::collections::{BTreeMap, BTreeSet};

use crate::document::{Entry, Node, NodeValue, read_yaml};
use crate::source::{SourceId, Sources};
use steps::{renamed_steps, with_new_steps};

/// The section under which what belongs to no entry stands, such as the version.
const HEAD: &str = "handbook";

/// The section of trees, and the key under which a step that has another id now is told.
const TREES: &str = "trees";
const STEPS: &str = "steps";

/// The most characters of a value that are shown (limit of ours).
const LONGEST_VALUE: usize = 60;

/// One entry that is not the same in both.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Difference {
    /// The section: `causes`.
    pub section: String,
    /// The id, the newer one where it was renamed.
    pub id: String,
    /// In which way.
    pub way: Way,
}

/// In which way an entry is not the same.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Only the newer handbook has it.
    Added,
    /// Only the older one has it.
    Removed,
    /// It has another id, by its own word (`was`), and perhaps other keys.
    Renamed(String, Vec<KeyChange>),
    /// These keys are not the same.
    Changed(Vec<KeyChange>),
}

/// One key that is not the same.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct KeyChange {
    /// The way to it within the entry: `shown_by.leak`.
    pub key: String,
    /// The older value, shortened; none if it was not there.
    pub old: Option<String>,
    /// The newer value, shortened; none if it is there no longer.
    pub new: Option<String>,
}

impl Difference {
    /// The steps of a tree that have another id now: the older id of each, and the newer one.
    pub fn renamed_steps(&self) -> impl Iterator<Item = (&str, &str)> {
        let keys: &[KeyChange] = match &self.way {
            Way::Renamed(_, keys) | Way::Changed(keys) if self.section == TREES => keys,
            _ => &[],
        };
        let steps = keys.iter().filter(|key| key.key == STEPS);
        steps.filter_map(|key| Some((key.old.as_deref()?, key.new.as_deref()?)))
    }
}

/// A section and an id.
type Name = (String, String);

type Entries = BTreeMap<Name, Node>;

/// The entries that had another id before, each with that: where the older handbook has the one
/// and the newer the other.
fn renamed(old: &Entries, new: &Entries) -> BTreeMap<Name, Name> {
    let mut renamed = BTreeMap::new();
    for (name, node) in new.iter().filter(|(name, _)| !old.contains_key(name)) {
        let was = former(node).map(|was| (name.0.clone(), was.to_owned()));
        if let Some(was) = was.filter(|was| old.contains_key(was) && !new.contains_key(was)) {
            renamed.insert(name.clone(), was);
        }
    }
    renamed
}

/// Everything that differs between two sets of files, by section and id. Layout, comments and
/// the files that entries stand in don't count.
#[must_use]
pub fn differences(
    (old_sources, old): (&Sources, &[SourceId]),
    (new_sources, new): (&Sources, &[SourceId]),
) -> Vec<Difference> {
    let (old, new) = (entries(old_sources, old), entries(new_sources, new));
    let mut found = Vec::new();
    let renamed = renamed(&old, &new);
    let ids: BTreeMap<&str, &str> = renamed.iter().map(|(now, was)| (&*was.1, &*now.1)).collect();
    for (name, node) in &new {
        let (section, id) = name;
        let (before, former) = match renamed.get(name) {
            Some(was) => (old.get(was), Some(was.1.clone())),
            None => (old.get(name), None),
        };
        let way = match (before.map(|before| of_entry(section, before, node, &ids)), former) {
            (None, _) => Way::Added,
            (Some(keys), Some(was)) => Way::Renamed(was, keys),
            (Some(keys), None) if keys.is_empty() => continue,
            (Some(keys), None) => Way::Changed(keys),
        };
        found.push(Difference { section: section.clone(), id: id.clone(), way });
    }
    let former: BTreeSet<&Name> = renamed.values().collect();
    let gone = old.keys().filter(|name| !new.contains_key(name) && !former.contains(name));
    found.extend(gone.map(|(section, id)| Difference {
        section: section.clone(),
        id: id.clone(),
        way: Way::Removed,
    }));
    found.sort();
    found
}

/// Every entry of some files; what stands in no section is a section of its own.
fn entries(sources: &Sources, files: &[SourceId]) -> Entries {
    let mut entries = Entries::new();
    for id in files {
        let (Some(root), _) = read_yaml(sources, *id) else { continue };
        for Entry { key, value } in root.entries().unwrap_or_default() {
            match value.entries() {
                Some(inner) => entries.extend(
                    inner.iter().map(|e| ((key.text.clone(), e.key.text.clone()), e.value.clone())),
                ),
                None => drop(entries.insert((HEAD.to_owned(), key.text.clone()), value.clone())),
            }
        }
    }
    entries
}

/// The id that an entry had before.
fn former(node: &Node) -> Option<&str> {
    let was = node.entries()?.iter().find(|entry| entry.key.text == "was")?;
    Some(was.value.scalar()?.text.trim())
}

/// The keys in which two entries of a section differ; of a tree, the steps that have another id
/// now come first, and elsewhere they count as the same.
fn of_entry(section: &str, old: &Node, new: &Node, ids: &BTreeMap<&str, &str>) -> Vec<KeyChange> {
    if section != TREES {
        return changes(old, new, ids);
    }
    let steps = renamed_steps(old, new, ids);
    let told = steps.iter().map(|(was, now)| KeyChange {
        key: STEPS.to_owned(),
        old: Some(was.clone()),
        new: Some(now.clone()),
    });
    let others = changes(&with_new_steps(old, &steps), new, ids).into_iter();
    let was: BTreeSet<String> = steps.values().map(|now| format!("{STEPS}.{now}.was")).collect();
    told.chain(others.filter(|change| !was.contains(&change.key))).collect()
}

/// The keys in which two entries differ; that the older one names entries by `ids` that have
/// others now is no difference.
fn changes(old: &Node, new: &Node, ids: &BTreeMap<&str, &str>) -> Vec<KeyChange> {
    let (old, new) = (values(old, ids), values(new, &BTreeMap::new()));
    let keys: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    let differing = keys.into_iter().filter(|key| old.get(*key) != new.get(*key));
    let shown = |value: Option<&String>| value.map(|value| shortened(value));
    differing
        .filter(|key| *key != "was")
        .map(|key| KeyChange {
            key: key.clone(),
            old: shown(old.get(key)),
            new: shown(new.get(key)),
        })
        .collect()
}

/// The texts in an entry by the way to them. A list is one text; the order of a map's keys, which
/// counts for choices, is another.
fn values(node: &Node, ids: &BTreeMap<&str, &str>) -> BTreeMap<String, String> {
    let mut values = BTreeMap::new();
    add_values(node, "", ids, &mut values);
    values
}

fn add_values(
    node: &Node,
    way: &str,
    ids: &BTreeMap<&str, &str>,
    values: &mut BTreeMap<String, String>,
) {
    let Some(entries) = node.entries() else {
        let name = if way.is_empty() { "value" } else { way };
        values.insert(name.to_owned(), flat(node, ids));
        return;
    };
    if way == "choices" {
        let order: Vec<&str> = entries.iter().map(|entry| entry.key.text.as_str()).collect();
        values.insert(way.to_owned(), order.join(", "));
    }
    for Entry { key, value } in entries {
        let dot = if way.is_empty() { "" } else { "." };
        add_values(value, &format!("{way}{dot}{}", now(&key.text, ids)), ids, values);
    }
}

/// The id that an entry has now.
fn now<'a>(id: &'a str, ids: &BTreeMap<&str, &'a str>) -> &'a str {
    ids.get(id).copied().unwrap_or(id)
}

/// A value on one line, its blanks made alike.
fn flat(node: &Node, ids: &BTreeMap<&str, &str>) -> String {
    match &node.value {
        NodeValue::Null | NodeValue::Faulty => String::new(),
        NodeValue::Scalar(scalar) => {
            let text = scalar.text.split_whitespace().collect::<Vec<_>>().join(" ");
            now(&text, ids).to_owned()
        }
        NodeValue::List(items) => {
            let items = items.iter().map(|item| flat(item, ids));
            format!("[{}]", items.collect::<Vec<_>>().join(", "))
        }
        NodeValue::Map(entries) => {
            let pair = |e: &Entry| format!("{}: {}", now(&e.key.text, ids), flat(&e.value, ids));
            format!("{{{}}}", entries.iter().map(pair).collect::<Vec<_>>().join(", "))
        }
    }
}

/// A value cut so that both sides of a change fit on a line.
fn shortened(value: &str) -> String {
    match value.char_indices().nth(LONGEST_VALUE) {
        Some((end, _)) => format!("{} ...", value[..end].trim_end()),
        None => value.to_owned(),
    }
}

#[cfg(test)]
mod tests;
