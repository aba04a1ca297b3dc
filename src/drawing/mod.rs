//! Trees as drawings: their steps and branches, and the visits between trees.
//!
//! [`Graph`] is what is drawn, as a value: boxes with their kind in words, and lines with what
//! leads along them. [`dot`], [`mermaid`] and [`svg`] write it down. What a case has passed, or
//! what scenarios never reached, is told by words and by the strokes, never by a colour. A
//! drawing states no cause and decides nothing. Imports `case`, `handbook` and `text`.
//!
//! ```
//! use dryhold::drawing::{Edge, Form, Graph, Mark, Node, dot};
//! let node = |name: &str| Node::new(Form::Do, name, "Look.");
//! let edge = Edge { from: 0, to: 1, label: "yes".to_owned(), mark: Mark::Plain };
//! let graph = Graph::new("A tree", vec![node("a"), node("b")], vec![edge]);
//! assert!(dot(&graph).contains("n0 -> n1 [label=\"yes\"]"));
//! ```

mod between_trees;
mod dot;
mod graph;
mod layering;
mod marks;
mod mermaid;
mod placing;
mod steps;
mod svg;
mod wrapped;

pub use between_trees::between_trees;
pub use dot::dot;
pub use graph::{Edge, Form, Graph, Mark, Node};
pub use marks::Marks;
pub use mermaid::mermaid;
pub use steps::of_tree;
pub use svg::svg;
