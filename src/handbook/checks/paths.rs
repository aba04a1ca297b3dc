//! Steps: all can be reached, all can reach an end, and no circle goes on for ever.

use petgraph::algo::tarjan_scc;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{Bfs, Reversed};

use super::Checked;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawTree;
use crate::handbook::model::{Next, StepKind, Target, Tree};
use crate::source::Span;

pub(super) fn check(handbook: &Checked<'_>, faults: &mut Vec<Diagnostic>) {
    for tree in &handbook.parts.trees {
        if let Some(raw) = handbook.raw.trees.iter().find(|raw| raw.id.value == tree.id) {
            check_tree(tree, raw, faults);
        }
    }
}

fn check_tree(tree: &Tree, raw: &RawTree, faults: &mut Vec<Diagnostic>) {
    let graph = graph_of(tree);
    let place = |i: usize| raw.steps[i].id.span;
    let reached = reached_from_start(tree, &graph);
    for (i, step) in tree.steps.iter().enumerate() {
        if !reached[i] {
            let title = format!("nothing leads to step `{}` of tree `{}`", step.id, tree.id);
            faults.push(Diagnostic::at(Code::UnreachableStep, title, place(i), "never reached"));
        }
    }
    let ends = can_end(tree, &graph);
    for (i, step) in tree.steps.iter().enumerate() {
        if reached[i] && !ends[i] {
            let title =
                format!("from step `{}` of tree `{}` no end can be reached", step.id, tree.id);
            faults.push(Diagnostic::at(Code::NoWayToEnd, title, place(i), "no way out of here"));
        }
    }
    endless(tree, &place, faults);
}

/// Steps with an edge to each step that can follow.
fn graph_of(tree: &Tree) -> DiGraph<(), ()> {
    let mut graph = DiGraph::new();
    for _ in &tree.steps {
        graph.add_node(());
    }
    for (i, step) in tree.steps.iter().enumerate() {
        for target in step.next.targets() {
            if let Target::Step(to) = target {
                graph.update_edge(NodeIndex::new(i), NodeIndex::new(to.index()), ());
            }
        }
        if let Some((_, then)) = step.bound {
            graph.update_edge(NodeIndex::new(i), NodeIndex::new(then.index()), ());
        }
    }
    graph
}

fn reached_from_start(tree: &Tree, graph: &DiGraph<(), ()>) -> Vec<bool> {
    let mut reached = vec![false; tree.steps.len()];
    let mut search = Bfs::new(graph, NodeIndex::new(tree.start.index()));
    while let Some(node) = search.next(graph) {
        reached[node.index()] = true;
    }
    reached
}

/// Which steps can reach an end, a stop or another tree.
fn can_end(tree: &Tree, graph: &DiGraph<(), ()>) -> Vec<bool> {
    let mut ends = vec![false; tree.steps.len()];
    for (i, step) in tree.steps.iter().enumerate() {
        let is_last = matches!(step.kind, StepKind::End { .. } | StepKind::Stop { .. });
        let jumps = step.next.targets().iter().any(|target| matches!(target, Target::Tree(_)));
        let is_exit = jumps || is_last && matches!(step.next, Next::Nothing);
        if !is_exit {
            continue;
        }
        let backwards = Reversed(graph);
        let mut search = Bfs::new(backwards, NodeIndex::new(i));
        while let Some(node) = search.next(backwards) {
            ends[node.index()] = true;
        }
    }
    ends
}

/// Circles that go through no step with `at_most`.
fn endless(tree: &Tree, place: &impl Fn(usize) -> Span, faults: &mut Vec<Diagnostic>) {
    let whole = graph_of(tree);
    let is_free = |node: NodeIndex| tree.steps[node.index()].bound.is_none();
    let unbounded = whole.filter_map(|node, ()| is_free(node).then_some(node), |_, ()| Some(()));
    for nodes in tarjan_scc(&unbounded) {
        let is_circle = nodes.len() > 1 || unbounded.contains_edge(nodes[0], nodes[0]);
        if !is_circle {
            continue;
        }
        let mut steps: Vec<usize> = nodes.iter().map(|node| unbounded[*node].index()).collect();
        steps.sort_unstable();
        let names: Vec<String> = steps.iter().map(|&i| format!("`{}`", tree.steps[i].id)).collect();
        let title = format!(
            "{} of tree `{}` can go round for ever",
            crate::text::list_and(&names),
            tree.id
        );
        faults.push(
            Diagnostic::at(
                Code::EndlessCycle,
                title,
                place(steps[0]),
                "the circle goes through here",
            )
            .help("give one of these steps `at_most:` with a number and `then:` with a step"),
        );
    }
}
