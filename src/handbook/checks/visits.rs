//! Trees that lead into each other without end.

use petgraph::algo::tarjan_scc;
use petgraph::graph::{DiGraph, NodeIndex};

use super::Checked;
use crate::diagnostic::{Code, Diagnostic};

pub(super) fn check(handbook: &Checked<'_>, faults: &mut Vec<Diagnostic>) {
    let trees = &handbook.parts.trees;
    let mut graph: DiGraph<(), ()> = DiGraph::new();
    for _ in trees {
        graph.add_node(());
    }
    for (i, tree) in trees.iter().enumerate() {
        for led in tree.leads_to() {
            graph.add_edge(NodeIndex::new(i), NodeIndex::new(led.index()), ());
        }
    }
    for nodes in tarjan_scc(&graph) {
        if nodes.len() > 1 || graph.contains_edge(nodes[0], nodes[0]) {
            let mut circle: Vec<usize> = nodes.iter().map(|node| node.index()).collect();
            circle.sort_unstable();
            report(handbook, &circle, faults);
        }
    }
}

fn report(handbook: &Checked<'_>, circle: &[usize], faults: &mut Vec<Diagnostic>) {
    let trees = &handbook.parts.trees;
    let names: Vec<String> = circle.iter().map(|&i| format!("`{}`", trees[i].id)).collect();
    let first = &trees[circle[0]].id;
    let Some(raw) = handbook.raw.trees.iter().find(|tree| &tree.id.value == first) else { return };
    let title = format!("{} lead into each other in a circle", crate::text::list_and(&names));
    faults.push(
        Diagnostic::at(Code::VisitCycle, title, raw.id.span, "the circle goes through here")
            .help("offer the tree under `then:` of an `end` instead of going there"),
    );
}
