//! How many pages a report takes on paper, by the length of its texts.

use super::{CaseReport, Fact, chart};

/// Letters in a row of a column. `computed`: a column is (210 - 24 - 6) / 2 = 90 mm wide; type of
/// 7.5 pt with letters half as wide as their size on average (`estimate` for a sans-serif face)
/// gives 90 mm / (3.75 pt = 1.32 mm) = 68; rows end early at words, so 62 are counted.
const LETTERS: usize = 62;

/// Rows on an A4 page of two columns. `computed`: (297 - 20) mm / (7.5 pt x 1.2 = 3.175 mm) = 87 a
/// column.
const ROWS_ON_A_PAGE: f64 = 2.0 * 87.0;

/// Rows of a chart. `computed`: 90 mm x 500 / 760 = 59 mm, with 1 mm above and below.
const CHART: f64 = 61.0 / 3.175;

pub(super) fn pages(report: &CaseReport<'_>) -> f64 {
    let sections = report.sections().iter();
    let facts = sections.map(|section| 1.8 + section.facts.iter().map(rows).sum::<f64>());
    let chart = chart::svg(report).map_or(0.0, |_| CHART);
    // The title runs over both columns: two rows of each.
    (4.0 + facts.sum::<f64>() + chart) / ROWS_ON_A_PAGE
}

/// The rows of a fact with the blank below it, as the style sheet of the page has it.
fn rows(fact: &Fact) -> f64 {
    let (text, blank) = match fact {
        Fact::Text(line) => (line.to_text(), 0.3),
        Fact::Item(line) => (line.to_text(), 0.15),
        Fact::Row { label, value } => (format!("{label} {}", value.to_text()), 0.15),
    };
    textwrap::wrap(&text, LETTERS).len() as f64 + blank
}
