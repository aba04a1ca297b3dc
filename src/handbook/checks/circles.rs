//! Circles among findings and formulas, and among causes that bring each other.

use petgraph::algo::tarjan_scc;
use petgraph::graph::{DiGraph, NodeIndex};

use super::Checked;
use crate::diagnostic::{Code, Diagnostic};
use crate::handbook::graph::NameGraph;
use crate::handbook::model::{CauseId, Entry, Parts};
use crate::source::Span;

pub(super) fn check(handbook: &Checked<'_>, faults: &mut Vec<Diagnostic>) {
    for circle in NameGraph::of(handbook.parts).circles() {
        let names: Vec<(String, Span)> = circle
            .iter()
            .map(|s| name_of(handbook, handbook.parts.entries[s.0 as usize]))
            .collect();
        report(Code::FormulaCycle, "need each other in a circle", &names, faults);
    }
    for circle in brings_circles(handbook.parts) {
        let place = |id: &CauseId| {
            let raw = &handbook.raw.causes[id.index()].id;
            (raw.value.clone(), raw.span)
        };
        let names: Vec<(String, Span)> = circle.iter().map(place).collect();
        report(Code::BringsCycle, "bring each other in a circle", &names, faults);
    }
}

fn name_of(handbook: &Checked<'_>, entry: Entry) -> (String, Span) {
    let id = match entry {
        Entry::Question(id) => &handbook.raw.questions[id.index()].id,
        Entry::Formula(id) => &handbook.raw.formulas[id.index()].id,
        Entry::Finding(id) => &handbook.raw.findings[id.index()].id,
    };
    (id.value.clone(), id.span)
}

fn report(code: Code, what: &str, names: &[(String, Span)], faults: &mut Vec<Diagnostic>) {
    let Some((_, span)) = names.first() else { return };
    let quoted: Vec<String> = names.iter().map(|(name, _)| format!("`{name}`")).collect();
    let title = format!("{} {what}", crate::text::list_and(&quoted));
    faults.push(Diagnostic::at(code, title, *span, "the circle goes through here"));
}

fn brings_circles(parts: &Parts) -> Vec<Vec<CauseId>> {
    let mut graph: DiGraph<(), ()> = DiGraph::new();
    for _ in &parts.causes {
        graph.add_node(());
    }
    for (i, cause) in parts.causes.iter().enumerate() {
        for (brought, _) in &cause.brings {
            graph.add_edge(NodeIndex::new(i), NodeIndex::new(brought.index()), ());
        }
    }
    let is_circle =
        |nodes: &Vec<NodeIndex>| nodes.len() > 1 || graph.contains_edge(nodes[0], nodes[0]);
    let mut circles: Vec<Vec<CauseId>> = tarjan_scc(&graph)
        .into_iter()
        .filter(is_circle)
        .map(|nodes| {
            let mut causes: Vec<CauseId> = nodes.iter().map(|n| CauseId::at(n.index())).collect();
            causes.sort();
            causes
        })
        .collect();
    circles.sort();
    circles
}
