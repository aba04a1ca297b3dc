//! The drawing as a flowchart in Mermaid's language.

use std::fmt::Write;

use super::graph::{Form, Graph, Mark};
use super::wrapped::{of_node, rows};

/// How wide a box's text is (characters), and how many rows of it are shown.
const WIDTH: usize = 34;
const MOST: usize = 5;

/// The drawing as a flowchart. Names are numbered, every text is quoted, and each character that
/// the language knows stands there by its number.
#[must_use]
pub fn mermaid(graph: &Graph) -> String {
    let mut text = String::from("flowchart TD\n");
    let _ = writeln!(text, "  accTitle: {}", plain(&graph.title));
    for (place, node) in graph.nodes.iter().enumerate() {
        let label = quoted(&of_node(node, WIDTH, MOST));
        let (open, close) = shape(node.form);
        let _ = writeln!(text, "  n{place}{open}{label}{close}");
    }
    for edge in &graph.edges {
        let line = match edge.mark {
            Mark::Plain => "-->",
            Mark::Thick => "==>",
            Mark::Dashed => "-.->",
        };
        let _ = write!(text, "  n{} {line}", edge.from);
        if !edge.label.is_empty() {
            let _ = write!(text, "|{}|", quoted(&rows(&edge.label, WIDTH, MOST)));
        }
        let _ = writeln!(text, " n{}", edge.to);
    }
    if !graph.legend.is_empty() {
        let legend: Vec<String> =
            graph.legend.iter().flat_map(|row| rows(row, WIDTH, MOST)).collect();
        let _ = writeln!(text, "  legend[{}]", quoted(&legend));
    }
    strokes(graph, &mut text);
    text
}

fn strokes(graph: &Graph, text: &mut String) {
    for (mark, name, style) in [
        (Mark::Thick, "thick", "stroke-width:4px"),
        (Mark::Dashed, "dashed", "stroke-dasharray:6 4"),
    ] {
        let marked: Vec<String> = (0..graph.nodes.len())
            .filter(|&place| graph.nodes[place].mark == mark)
            .map(|place| format!("n{place}"))
            .collect();
        if !marked.is_empty() {
            let _ = writeln!(text, "  classDef {name} {style}");
            let _ = writeln!(text, "  class {} {name}", marked.join(","));
        }
    }
}

fn shape(form: Form) -> (&'static str, &'static str) {
    match form {
        Form::Ask => ("(", ")"),
        Form::Do => ("[", "]"),
        Form::Action | Form::Visit => ("[[", "]]"),
        Form::Tree => ("[/", "/]"),
        Form::Stop => ("{{", "}}"),
        Form::End => ("([", "])"),
    }
}

/// Rows in double quotes.
fn quoted(rows: &[String]) -> String {
    let escaped: Vec<String> = rows.iter().map(|row| escaped(row)).collect();
    format!("\"{}\"", escaped.join("<br/>"))
}

fn escaped(text: &str) -> String {
    let mut escaped = String::new();
    for c in text.chars() {
        if c.is_alphanumeric() || " .,:!?()+-/'[]=%_".contains(c) {
            escaped.push(c);
        } else {
            let _ = write!(escaped, "#{};", u32::from(c));
        }
    }
    escaped
}

/// A text without anything that ends a line of the language.
fn plain(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_alphanumeric() || " .,:()'_-".contains(c) { c } else { ' ' })
        .collect()
}
