//! The trees of a handbook, and how one leads to another.

use super::graph::{Edge, Form, Graph, Mark, Node};
use super::marks::Marks;
use crate::handbook::{Handbook, StepKind, Target, TreeId};

/// The drawing of all trees: which visits which, goes on to it, or offers it at its end.
#[must_use]
pub fn between_trees(handbook: &Handbook, marks: &Marks) -> Graph {
    let mut nodes = Vec::new();
    let mut edges = Vec::new();
    for (place, tree) in handbook.trees().iter().enumerate() {
        let (mark, note) = marks.of_tree(TreeId::at(place), tree);
        nodes.push(Node { mark, note, ..Node::new(Form::Tree, &tree.id, &tree.title) });
        let mut lead = |to: TreeId, label: &str| {
            let edge =
                Edge { from: place, to: to.index(), label: label.to_owned(), mark: Mark::Plain };
            // Said once, however many steps do it.
            if !edges.contains(&edge) {
                edges.push(edge);
            }
        };
        for step in &tree.steps {
            match &step.kind {
                StepKind::Visit(to) => lead(*to, "visits"),
                StepKind::End { then, .. } => then.iter().for_each(|to| lead(*to, "offers next")),
                _ => {}
            }
            for target in step.next.targets() {
                if let Target::Tree(to) = target {
                    lead(to, "goes on to");
                }
            }
        }
    }
    let title = format!("The trees of {}", handbook.name());
    let mut graph = Graph::new(title, nodes, edges);
    graph.legend = marks.legend();
    graph
}
