//! One tree: its steps, and what leads from one to another.

use super::graph::{Edge, Form, Graph, Mark, Node};
use super::marks::Marks;
use crate::case::Place;
use crate::handbook::{Handbook, Step, StepId, StepKind, Target, Tree, TreeId, leads};

/// The drawing of a tree. Trees that it goes on to or offers stand at its ends.
#[must_use]
pub fn of_tree(handbook: &Handbook, id: TreeId, marks: &Marks) -> Graph {
    let tree = handbook.tree(id);
    let mut drawn = Drawn { handbook, id, tree, marks, places: Vec::new(), nodes: Vec::new() };
    let mut edges = Vec::new();
    // The first box is where the tree starts.
    drawn.place(Target::Step(tree.start));
    for step in 0..tree.steps.len() {
        drawn.place(Target::Step(StepId::at(step)));
    }
    for step in 0..tree.steps.len() {
        edges.extend(drawn.edges(StepId::at(step)));
    }
    let mut graph = Graph::new(format!("{} ({})", tree.title, tree.id), drawn.nodes, edges);
    graph.legend = marks.legend();
    graph
}

struct Drawn<'h> {
    handbook: &'h Handbook,
    id: TreeId,
    tree: &'h Tree,
    marks: &'h Marks,
    places: Vec<Target>,
    nodes: Vec<Node>,
}

impl Drawn<'_> {
    /// The place of the box of a step or a tree; it is made where there is none yet.
    fn place(&mut self, target: Target) -> usize {
        if let Some(place) = self.places.iter().position(|one| *one == target) {
            return place;
        }
        let node = match target {
            Target::Step(step) => self.step(step),
            Target::Tree(tree) => {
                let tree = self.handbook.tree(tree);
                Node::new(Form::Tree, &tree.id, &tree.title)
            }
        };
        self.places.push(target);
        self.nodes.push(node);
        self.nodes.len() - 1
    }

    fn step(&self, id: StepId) -> Node {
        let step = self.tree.step(id);
        let (form, text) = self.said(step);
        let (mark, note) = self.marks.of_step(Place { tree: self.id, step: id });
        Node { mark, note, ..Node::new(form, &step.id, text) }
    }

    fn said(&self, step: &Step) -> (Form, String) {
        match &step.kind {
            StepKind::Do { text, wait: Some(seconds) } => {
                (Form::Do, format!("{} (wait {:.0} min)", text.spelled().trim(), seconds / 60.0))
            }
            StepKind::Do { text, wait: None } => (Form::Do, text.spelled()),
            StepKind::Ask { question, .. } => {
                (Form::Ask, self.handbook.question(*question).ask.spelled())
            }
            StepKind::Act { action, .. } => {
                (Form::Action, self.handbook.action(*action).instruction.spelled())
            }
            StepKind::Visit(tree) => (Form::Visit, self.handbook.tree(*tree).title.clone()),
            StepKind::Stop { text, .. } => (Form::Stop, text.spelled()),
            StepKind::End { done, .. } => (Form::End, done.spelled()),
        }
    }

    fn edges(&mut self, id: StepId) -> Vec<Edge> {
        let step = self.tree.step(id);
        let from = self.place(Target::Step(id));
        let place = Place { tree: self.id, step: id };
        let mut edges: Vec<Edge> = Vec::new();
        for (way, target) in leads(self.handbook, step) {
            let label = way.words();
            let to = self.place(target);
            let (mark, note) = self.marks.of_branch(place, target);
            let is_again = edges.iter().any(|edge| edge.to == to);
            let label = match (label.as_str(), note.as_str()) {
                (_, "") => label,
                // Two ways to one step share one mark, so it is told once.
                _ if is_again => label,
                ("", note) => note.to_owned(),
                (label, note) => format!("{note}: {label}"),
            };
            edges.push(Edge { from, to, label, mark });
        }
        if let StepKind::End { then, .. } = &step.kind {
            for tree in then {
                let to = self.place(Target::Tree(*tree));
                edges.push(Edge { from, to, label: "offered next".to_owned(), mark: Mark::Plain });
            }
        }
        edges
    }
}
