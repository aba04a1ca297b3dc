//! Who needs whom: the graph of questions, formulas and findings.

use std::sync::Arc;

use petgraph::algo::kosaraju_scc;
use petgraph::graph::{DiGraph, NodeIndex};

use super::model::{Entry, Observes, Parts, QuestionId};
use crate::formula::{Checked, Symbol};

/// The questions that each name of a handbook can be traced to.
pub(super) struct NameGraph {
    under: Vec<Arc<[QuestionId]>>,
}

impl NameGraph {
    pub(super) fn of(parts: &Parts) -> Self {
        let mut graph: DiGraph<(), ()> = DiGraph::new();
        for _ in &parts.entries {
            graph.add_node(());
        }
        for (i, entry) in parts.entries.iter().enumerate() {
            for needed in needs(parts, *entry) {
                graph.add_edge(NodeIndex::new(i), NodeIndex::new(needed.0 as usize), ());
            }
        }
        let mut under: Vec<Arc<[QuestionId]>> = vec![Arc::default(); parts.entries.len()];
        // What is needed comes before what needs it, so that no name is looked through twice.
        for knot in kosaraju_scc(&graph) {
            let found = gather(&graph, parts, &under, &knot);
            for node in knot {
                under[node.index()] = Arc::clone(&found);
            }
        }
        Self { under }
    }

    /// The questions that a name can be traced to, itself included, in the order of the table.
    pub(super) fn questions_under(&self, symbol: Symbol) -> &[QuestionId] {
        &self.under[symbol.0 as usize]
    }

    /// The same for every name, in the order of the symbols.
    pub(super) fn into_questions(self) -> Vec<Arc<[QuestionId]>> {
        self.under
    }
}

/// The questions under names that need each other, from those found for what they need.
fn gather(
    graph: &DiGraph<(), ()>,
    parts: &Parts,
    under: &[Arc<[QuestionId]>],
    knot: &[NodeIndex],
) -> Arc<[QuestionId]> {
    let needed = || knot.iter().flat_map(|node| graph.neighbors(*node));
    let mut questions: Vec<QuestionId> =
        needed().flat_map(|n| under[n.index()].iter()).copied().collect();
    questions.extend(knot.iter().filter_map(|node| match parts.entries[node.index()] {
        Entry::Question(id) => Some(id),
        _ => None,
    }));
    questions.sort_unstable();
    questions.dedup();
    // A long chain of names shares one list.
    let mut same = needed().map(|n| &under[n.index()]).filter(|known| ***known == questions[..]);
    same.next().cloned().unwrap_or_else(|| questions.into())
}

fn needs(parts: &Parts, entry: Entry) -> Vec<Symbol> {
    let used = |checked: &Checked| checked.uses().iter().map(|u| u.symbol).collect::<Vec<_>>();
    match entry {
        Entry::Question(id) => parts.questions[id.index()]
            .instrument
            .map(|instrument| &parts.instruments[instrument.index()])
            .into_iter()
            .flat_map(|i| [&i.scale, &i.offset, &i.resolution])
            .flatten()
            .flat_map(used)
            .collect(),
        Entry::Formula(id) => used(&parts.formulas[id.index()].is),
        Entry::Finding(id) => {
            let finding = &parts.findings[id.index()];
            let mut needed = match &finding.observes {
                Observes::When(condition) => used(condition),
                Observes::Of(question) => vec![parts.questions[question.index()].symbol],
            };
            needed.extend(finding.only_if.iter().flat_map(used));
            needed
        }
    }
}
