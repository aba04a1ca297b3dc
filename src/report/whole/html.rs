//! The report as one page of HTML.

use std::fmt::Write;

use super::{CaseReport, Fact, chart};
use crate::text::{Line, Role, escaped};

/// The page, whole in itself: no script, nothing loaded from elsewhere. On paper it is A4 in two
/// columns; what is grave is told by words, weight and rules, never by a colour.
pub(super) fn html(report: &CaseReport<'_>) -> String {
    let mut page = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<main>\n\
         <h1>{title}</h1>\n",
        title = escaped(&report.title())
    );
    let chart = chart::svg(report);
    for section in report.sections() {
        let _ = writeln!(page, "<section>\n<h2>{}</h2>", escaped(&section.heading));
        let mut is_list = false;
        for fact in &section.facts {
            let is_item = !matches!(fact, Fact::Text(_));
            match (is_list, is_item) {
                (false, true) => page.push_str("<ul>\n"),
                (true, false) => page.push_str("</ul>\n"),
                _ => {}
            }
            is_list = is_item;
            write_fact(&mut page, fact);
        }
        if is_list {
            page.push_str("</ul>\n");
        }
        page.push_str("</section>\n");
        if let (Some(chart), true) = (&chart, section.heading == CHART_AFTER) {
            let _ = writeln!(page, "<figure>\n{chart}</figure>");
        }
    }
    page.push_str("</main>\n</body>\n</html>\n");
    page
}

/// The section that the chart stands behind; whoever gave readings has answered something.
const CHART_AFTER: &str = "What was asked and answered";

fn write_fact(page: &mut String, fact: &Fact) {
    let _ = match fact {
        Fact::Text(line) => writeln!(page, "<p>{}</p>", told(line)),
        Fact::Item(line) => writeln!(page, "<li>{}</li>", told(line)),
        Fact::Row { label, value } => {
            writeln!(page, "<li><i>{}</i> {}</li>", escaped(label), told(value))
        }
    };
}

fn told(line: &Line) -> String {
    let mut told = String::new();
    for piece in &line.pieces {
        let text = escaped(&piece.text);
        match piece.role {
            Role::Strong => told.push_str(&format!("<b>{text}</b>")),
            Role::Warning => told.push_str(&format!("<strong>{text}</strong>")),
            _ => told.push_str(&text),
        }
    }
    told
}

/// Sizes are such that [`pages`](super::pages) counts the rows of a page.
const STYLE: &str = "\
@page { size: A4; margin: 10mm 12mm; }
body { font: 7.5pt/1.2 sans-serif; color: #000; background: #fff; margin: 0; }
main { columns: 2; column-gap: 6mm; }
h1 { font-size: 13pt; margin: 0 0 1mm; column-span: all; }
h2 { font-size: 9pt; margin: 1.5mm 0 .5mm; border-bottom: .4pt solid #000; break-after: avoid; }
p { margin: 0 0 1mm; }
p, li { overflow-wrap: anywhere; }
ul { margin: 0; padding: 0; list-style: none; }
li { margin: 0 0 .5mm; break-inside: avoid; }
strong { border-left: 1.5pt solid #000; padding-left: 1mm; }
figure { margin: 1mm 0; break-inside: avoid; }
figure svg { width: 100%; height: auto; }
@media screen { body { max-width: 60em; margin: 1em auto; padding: 0 1em; font-size: 12pt; } }
@media screen and (max-width: 45em) { main { columns: 1; } }
";
