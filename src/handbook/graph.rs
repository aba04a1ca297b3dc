//! Who needs whom: the graph of questions, formulas and findings.

use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::Dfs;

use super::model::{Entry, Observes, Parts, QuestionId};
use crate::formula::{Checked, Symbol};

/// The graph of a handbook's names; an edge leads from what needs to what is needed.
pub(super) struct NameGraph {
    graph: DiGraph<Symbol, ()>,
}

impl NameGraph {
    pub(super) fn of(parts: &Parts) -> Self {
        let mut graph = DiGraph::new();
        for symbol in 0..parts.entries.len() as u32 {
            graph.add_node(Symbol(symbol));
        }
        for (i, entry) in parts.entries.iter().enumerate() {
            for needed in needs(parts, *entry) {
                graph.add_edge(NodeIndex::new(i), NodeIndex::new(needed.0 as usize), ());
            }
        }
        Self { graph }
    }

    /// The questions that a name can be traced to, itself included, in the order of the table.
    pub(super) fn questions_under(&self, parts: &Parts, symbol: Symbol) -> Vec<QuestionId> {
        let mut search = Dfs::new(&self.graph, NodeIndex::new(symbol.0 as usize));
        let mut questions = Vec::new();
        while let Some(node) = search.next(&self.graph) {
            if let Entry::Question(id) = parts.entries[self.graph[node].0 as usize] {
                questions.push(id);
            }
        }
        questions.sort();
        questions
    }
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
