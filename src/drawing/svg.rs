//! The drawing as SVG: whole in itself, in black on white, with a title and a description for
//! whoever can't see it.

use std::fmt::Write;

use super::graph::{Form, Graph, Mark};
use super::placing::{Area, LETTER, ROW, SIZE, Written, place};
use super::wrapped::rows;
use crate::text::escaped;

/// The drawing as SVG 1.1. No text of the handbook can become a part of the markup; strokes alone
/// and words tell what is marked.
#[must_use]
pub fn svg(graph: &Graph) -> String {
    let title = rows(&graph.title, 80, 2);
    let placed = place(graph, title.len());
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w:.0}\" height=\"{h:.0}\" \
         viewBox=\"0 0 {w:.0} {h:.0}\" role=\"img\" aria-labelledby=\"title desc\" \
         font-family=\"sans-serif\" font-size=\"{SIZE}\">\n",
        w = placed.width,
        h = placed.height,
    );
    let _ = writeln!(text, "<title id=\"title\">{}</title>", escaped(&graph.title));
    let _ = writeln!(text, "<desc id=\"desc\">{}</desc>", escaped(&graph.described()));
    text.push_str(ARROW);
    let _ = writeln!(
        text,
        "<rect width=\"{:.0}\" height=\"{:.0}\" fill=\"#fff\"/>",
        placed.width, placed.height
    );
    let heading = Area { x: 20.0, y: 20.0 - ROW / 2.0, width: 0.0, height: 0.0 };
    writing(&mut text, &heading, &title, 0.0, " font-weight=\"bold\"");
    writing(&mut text, &placed.legend.area, &placed.legend.rows, 0.0, "");
    for (edge, points) in graph.edges.iter().zip(&placed.lines) {
        line(&mut text, points, edge.mark);
    }
    for (node, written) in graph.nodes.iter().zip(&placed.boxes) {
        outline(&mut text, node.form, &written.area, node.mark);
        boxed(&mut text, written);
    }
    for label in placed.labels.iter().flatten() {
        let Area { x, y, width, height } = label.area;
        let _ = writeln!(
            text,
            "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{height:.1}\" \
             fill=\"#fff\"/>"
        );
        writing(&mut text, &label.area, &label.rows, 2.0, " font-style=\"italic\"");
    }
    text.push_str("</svg>\n");
    text
}

const ARROW: &str = "<defs><marker id=\"arrow\" viewBox=\"0 0 8 8\" refX=\"8\" refY=\"4\" \
    markerWidth=\"9\" markerHeight=\"9\" markerUnits=\"userSpaceOnUse\" orient=\"auto\">\
    <path d=\"M0 0L8 4L0 8z\"/></marker></defs>\n";

fn line(text: &mut String, points: &[(f64, f64)], mark: Mark) {
    let path: Vec<String> = points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
    let _ = writeln!(
        text,
        "<polyline points=\"{}\" fill=\"none\" stroke=\"#000\"{} marker-end=\"url(#arrow)\"/>",
        path.join(" "),
        stroke(mark)
    );
}

fn stroke(mark: Mark) -> &'static str {
    match mark {
        Mark::Plain => " stroke-width=\"1\"",
        Mark::Thick => " stroke-width=\"3\"",
        Mark::Dashed => " stroke-width=\"1\" stroke-dasharray=\"6 4\"",
    }
}

/// The outline of a box; its kind also stands in it as a word.
fn outline(text: &mut String, form: Form, area: &Area, mark: Mark) {
    let Area { x, y, width, height } = *area;
    let round = match form {
        Form::Ask => 8.0,
        Form::End => 18.0,
        _ => 0.0,
    };
    let rect = |x: f64, y: f64, width: f64, height: f64| {
        format!(
            "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{height:.1}\" \
             rx=\"{round}\" fill=\"#fff\" stroke=\"#000\"{}/>",
            stroke(mark)
        )
    };
    let _ = writeln!(text, "{}", rect(x, y, width, height));
    // A second outline inside for what is more than a step: another tree, or the end of the work.
    if matches!(form, Form::Visit | Form::Tree | Form::Stop) {
        let _ = writeln!(text, "{}", rect(x + 3.0, y + 3.0, width - 6.0, height - 6.0));
    }
}

/// The rows of a box, the first of them strong.
fn boxed(text: &mut String, written: &Written) {
    let area = Area { y: written.area.y + 6.0, ..written.area };
    let (head, rest) = written.rows.split_at(1.min(written.rows.len()));
    writing(text, &area, head, 6.0, " font-weight=\"bold\"");
    writing(text, &Area { y: area.y + ROW, ..area }, rest, 6.0, "");
}

/// Rows below each other from the upper left of an area; a row that would be too wide in another
/// typeface is drawn together.
fn writing(text: &mut String, area: &Area, rows: &[String], inset: f64, style: &str) {
    for (place, row) in rows.iter().enumerate() {
        let wide = LETTER * row.chars().count() as f64;
        let room = area.width - 2.0 * inset;
        let fit = if area.width > 0.0 && wide > room * 0.9 && wide <= room * 1.2 {
            format!(" textLength=\"{:.1}\" lengthAdjust=\"spacingAndGlyphs\"", wide.min(room))
        } else {
            String::new()
        };
        let _ = writeln!(
            text,
            "<text x=\"{:.1}\" y=\"{:.1}\"{style}{fit}>{}</text>",
            area.x + inset,
            area.y + ROW * (place as f64 + 0.77),
            escaped(row)
        );
    }
}
