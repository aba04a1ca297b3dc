//! How many pages a card takes on paper, by the length of its texts.

use super::part::{Card, Part};

/// Letters in a row of a column. `computed`: a column is (210 - 24 - 6) / 2 = 90 mm wide; type of
/// 8 pt with letters half as wide as their size on average (`estimate` for a sans-serif face)
/// gives 90 mm / (4 pt = 1.41 mm) = 63; rows end early at words, so 58 are counted.
const LETTERS: usize = 58;

/// Rows on an A4 page of two columns. `computed`: (297 - 20) mm / (8 pt x 1.2 = 3.39 mm) = 81 a
/// column.
pub const ROWS_ON_A_PAGE: f64 = 2.0 * 81.0;

/// The pages that a card takes on A4, in parts of a page.
#[must_use]
pub fn pages(card: &Card) -> f64 {
    // The title runs over both columns: two rows of each.
    let rows: f64 = 4.0 + card.parts.iter().map(rows).sum::<f64>();
    rows / ROWS_ON_A_PAGE
}

/// The rows of a part with the blank round it, as the style sheet of the page has it.
fn rows(part: &Part) -> f64 {
    match part {
        Part::Heading(_) => 1.8,
        Part::Text(text) => wrapped(text, LETTERS) + 0.3,
        Part::Row { mark, kind, says, ways } => {
            let lead = format!("{mark} {kind} {says}");
            let ways: f64 = ways.iter().map(|way| wrapped(way, LETTERS - 3)).sum();
            wrapped(&lead, LETTERS) + ways + 0.15
        }
    }
}

fn wrapped(text: &str, letters: usize) -> f64 {
    textwrap::wrap(text, letters).len() as f64
}
