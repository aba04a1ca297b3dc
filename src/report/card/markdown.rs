//! The card in Markdown.

use super::part::{Card, Part};
use crate::text::markdown_escaped as escaped;

/// The card in Markdown. What the handbook says can't become markup or a heading.
#[must_use]
pub fn markdown(card: &Card) -> String {
    let mut blocks = vec![format!("# {}", escaped(&card.title))];
    let mut is_list = false;
    for part in &card.parts {
        let (block, is_row) = match part {
            Part::Heading(text) => (format!("## {}", escaped(text)), false),
            Part::Text(text) => (escaped(text), false),
            Part::Row { mark, kind, says, ways } => (row(mark, kind, says, ways), true),
        };
        match blocks.last_mut() {
            // Rows stand close together.
            Some(last) if is_row && is_list => {
                last.push('\n');
                last.push_str(&block);
            }
            _ => blocks.push(block),
        }
        is_list = is_row;
    }
    blocks.join("\n\n") + "\n"
}

fn row(mark: &str, kind: &str, says: &str, ways: &[String]) -> String {
    let lead = if mark.is_empty() { String::new() } else { format!("**{}** ", escaped(mark)) };
    let mut row = format!("- {lead}*{}* {}", escaped(kind), escaped(says));
    for way in ways {
        row.push_str(&format!("\n  - {}", escaped(way)));
    }
    row
}
