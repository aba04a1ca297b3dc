//! The drawing in the DOT language.

use std::fmt::Write;

use super::graph::{Form, Graph, Mark};
use super::wrapped::{of_node, rows};

/// How wide a box's text is (characters), and how many rows of it are shown.
const WIDTH: usize = 34;
const MOST: usize = 5;

/// The drawing in DOT. Nothing that the handbook says can be taken for a part of the language:
/// names are numbered, and every text is quoted.
#[must_use]
pub fn dot(graph: &Graph) -> String {
    let mut text = format!("digraph {} {{\n", quoted(&graph.title));
    let _ = writeln!(text, "  graph [label={}, labelloc=t, rankdir=TB];", quoted(&graph.title));
    text.push_str("  node [fontname=\"sans-serif\", fontsize=10];\n");
    text.push_str("  edge [fontname=\"sans-serif\", fontsize=9];\n");
    for (place, node) in graph.nodes.iter().enumerate() {
        let label = quoted(&of_node(node, WIDTH, MOST).join("\n"));
        let (shape, rounded) = shape(node.form);
        let styles: Vec<&str> = [rounded, stroke(node.mark)].into_iter().flatten().collect();
        let _ = write!(text, "  n{place} [shape={shape}, label={label}");
        if !styles.is_empty() {
            let _ = write!(text, ", style=\"{}\"", styles.join(","));
        }
        text.push_str("];\n");
    }
    for edge in &graph.edges {
        let label = quoted(&rows(&edge.label, WIDTH, MOST).join("\n"));
        let _ = write!(text, "  n{} -> n{} [label={label}", edge.from, edge.to);
        if let Some(stroke) = stroke(edge.mark) {
            let _ = write!(text, ", style={stroke}");
        }
        text.push_str("];\n");
    }
    if !graph.legend.is_empty() {
        let legend: Vec<String> =
            graph.legend.iter().flat_map(|row| rows(row, WIDTH, MOST)).collect();
        let _ = writeln!(text, "  legend [shape=note, label={}];", quoted(&legend.join("\n")));
    }
    text.push_str("}\n");
    text
}

fn shape(form: Form) -> (&'static str, Option<&'static str>) {
    match form {
        Form::Ask => ("box", Some("rounded")),
        Form::Do => ("box", None),
        Form::Action => ("component", None),
        Form::Visit => ("folder", None),
        Form::Tree => ("tab", None),
        Form::Stop => ("octagon", None),
        Form::End => ("oval", None),
    }
}

fn stroke(mark: Mark) -> Option<&'static str> {
    match mark {
        Mark::Plain => None,
        Mark::Thick => Some("bold"),
        Mark::Dashed => Some("dashed"),
    }
}

/// A text in double quotes, in which rows are broken by `\n`.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}
