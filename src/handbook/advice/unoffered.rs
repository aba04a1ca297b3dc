//! Trees that nobody comes to who does not know their name.

use std::collections::BTreeSet;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawHandbook;
use crate::handbook::model::{Handbook, StepKind, Tree, TreeId};

/// Where there is a tree to begin with, each of the others should be led to or offered. Without
/// one, all of them are named to whoever begins.
pub(super) fn advise(written: &RawHandbook, handbook: &Handbook, advice: &mut Vec<Diagnostic>) {
    let Some(first) = handbook.first_tree() else { return };
    let mut come_to = BTreeSet::new();
    follow(handbook, first, &mut come_to);
    let all: Vec<TreeId> = (0..handbook.trees().len()).map(TreeId::at).collect();
    let led_to: BTreeSet<TreeId> = all
        .iter()
        .flat_map(|from| offers(handbook.tree(*from)).into_iter().filter(move |to| to != from))
        .collect();
    let (inner, roots): (Vec<TreeId>, Vec<TreeId>) =
        all.into_iter().partition(|id| led_to.contains(id));
    // What only an unoffered tree offers needs no word of its own.
    for id in roots.into_iter().chain(inner) {
        if come_to.contains(&id) {
            continue;
        }
        follow(handbook, id, &mut come_to);
        let name = &handbook.tree(id).id;
        let Some(raw) = written.trees.iter().find(|raw| raw.id.value == *name) else { continue };
        let title = format!("no tree leads to tree `{name}` or offers it");
        let label = "begun only by who knows its name";
        advice.push(Diagnostic::at(Code::Unoffered, title, raw.id.span, label).help(format!(
            "list it under `then` at an `end`, or lead to it with `visit: {name}`; if it is meant \
             to be begun by its name, `waive` this with the reason"
        )));
    }
}

/// Adds a tree and all that it leads to or offers.
fn follow(handbook: &Handbook, from: TreeId, come_to: &mut BTreeSet<TreeId>) {
    let mut open = vec![from];
    while let Some(id) = open.pop() {
        if come_to.insert(id) {
            open.extend(offers(handbook.tree(id)));
        }
    }
}

/// The trees that a tree visits, jumps to or offers at an end.
fn offers(tree: &Tree) -> Vec<TreeId> {
    let mut offers = tree.leads_to();
    for step in &tree.steps {
        if let StepKind::End { then, .. } = &step.kind {
            offers.extend(then);
        }
    }
    offers
}
