//! Steps that have another id in the newer tree.

use std::collections::BTreeMap;

use super::changes;
use crate::document::{Entry, Node, NodeValue};

/// The newer ids of a tree's steps by their older ones.
pub(super) type Steps = BTreeMap<String, String>;

/// The steps of a tree that have another id now: those that say so themselves (`was`), and each
/// that is gone where just one that is new says the same. `ids` are entries that were renamed.
pub(super) fn renamed_steps(old: &Node, new: &Node, ids: &BTreeMap<&str, &str>) -> Steps {
    let (before, after) = (steps(old), steps(new));
    let has = |steps: &[Entry], id: &str| steps.iter().any(|step| step.key.text == id);
    let gone: Vec<&Entry> = before.iter().filter(|step| !has(after, &step.key.text)).collect();
    let fresh: Vec<&Entry> = after.iter().filter(|step| !has(before, &step.key.text)).collect();
    let mut renamed = Steps::new();
    for step in &fresh {
        let was = super::former(&step.value);
        let was = was.filter(|was| gone.iter().any(|gone| gone.key.text == *was));
        renamed.extend(was.map(|was| (was.to_owned(), step.key.text.clone())));
    }
    // A step may lead to another that was renamed, so each one found may lead to the next.
    while let Some((was, now)) = next_alike(&gone, &fresh, &renamed, ids) {
        renamed.insert(was, now);
    }
    renamed
}

/// A step that is gone and the only new one that says the same.
fn next_alike(
    gone: &[&Entry],
    fresh: &[&Entry],
    renamed: &Steps,
    ids: &BTreeMap<&str, &str>,
) -> Option<(String, String)> {
    let is_taken = |id: &str| renamed.values().any(|now| now == id);
    let open = || gone.iter().filter(|step| !renamed.contains_key(&step.key.text));
    let left: Vec<&&Entry> = fresh.iter().filter(|step| !is_taken(&step.key.text)).collect();
    let is_alike = |old: &Entry, new: &Entry| {
        let mut supposed = renamed.clone();
        supposed.insert(old.key.text.clone(), new.key.text.clone());
        let mut old = old.value.clone();
        rename_in_step(&mut old, &supposed);
        changes(&old, &new.value, ids).is_empty()
    };
    open().find_map(|old| {
        let mut alike = left.iter().filter(|new| is_alike(old, new));
        let only = alike.next().filter(|_| alike.next().is_none())?;
        let is_its_only = open().filter(|other| is_alike(other, only)).count() == 1;
        is_its_only.then(|| (old.key.text.clone(), only.key.text.clone()))
    })
}

/// The tree as it would be written with the newer ids of its steps.
pub(super) fn with_new_steps(tree: &Node, renamed: &Steps) -> Node {
    let mut tree = tree.clone();
    for Entry { key, value } in entries_mut(&mut tree) {
        match key.text.as_str() {
            "start" => rename(value, renamed),
            "steps" => {
                for Entry { key, value } in entries_mut(value) {
                    key.text = now(&key.text, renamed);
                    rename_in_step(value, renamed);
                }
            }
            _ => {}
        }
    }
    tree
}

fn steps(tree: &Node) -> &[Entry] {
    let mut keys = tree.entries().unwrap_or_default().iter();
    let steps = keys.find(|entry| entry.key.text == "steps");
    steps.and_then(|steps| steps.value.entries()).unwrap_or_default()
}

/// The ids of steps in what a step says: `next`, and `then` where no tree is offered.
fn rename_in_step(step: &mut Node, renamed: &Steps) {
    let is_end = step.entries().is_some_and(|all| all.iter().any(|e| e.key.text == "end"));
    for Entry { key, value } in entries_mut(step) {
        match key.text.as_str() {
            "next" => rename_targets(value, renamed),
            "then" if !is_end => rename(value, renamed),
            _ => {}
        }
    }
}

fn rename_targets(target: &mut Node, renamed: &Steps) {
    match &mut target.value {
        NodeValue::Scalar(_) => rename(target, renamed),
        NodeValue::List(items) => {
            items.iter_mut().for_each(|item| rename_targets(item, renamed));
        }
        NodeValue::Map(entries) => {
            // A condition is no target, nor is another tree.
            let targets = entries.iter_mut().filter(|e| !matches!(&*e.key.text, "if" | "tree"));
            targets.for_each(|entry| rename_targets(&mut entry.value, renamed));
        }
        NodeValue::Null | NodeValue::Faulty => {}
    }
}

fn rename(node: &mut Node, renamed: &Steps) {
    if let NodeValue::Scalar(scalar) = &mut node.value {
        scalar.text = now(scalar.text.trim(), renamed);
    }
}

fn now(id: &str, renamed: &Steps) -> String {
    renamed.get(id).cloned().unwrap_or_else(|| id.to_owned())
}

fn entries_mut(node: &mut Node) -> &mut [Entry] {
    match &mut node.value {
        NodeValue::Map(entries) => entries,
        _ => &mut [],
    }
}
