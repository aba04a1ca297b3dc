//! The report in Markdown.

use super::{CaseReport, Fact};
use crate::text::{Line, Role, markdown_escaped};

pub(super) fn markdown(report: &CaseReport<'_>) -> String {
    let mut blocks = vec![format!("# {}", markdown_escaped(&report.title()))];
    for section in report.sections() {
        blocks.push(format!("## {}", markdown_escaped(&section.heading)));
        let mut is_list = false;
        for fact in &section.facts {
            let (block, is_item) = match fact {
                Fact::Text(line) => (told(line), false),
                Fact::Item(line) => (format!("- {}", told(line)), true),
                Fact::Row { label, value } => {
                    let label = markdown_escaped(label.trim());
                    (format!("- **{label}** {}", told(value)), true)
                }
            };
            match blocks.last_mut() {
                // Items stand close together.
                Some(last) if is_item && is_list => {
                    last.push('\n');
                    last.push_str(&block);
                }
                _ => blocks.push(block),
            }
            is_list = is_item;
        }
    }
    blocks.join("\n\n") + "\n"
}

/// A line with its strong pieces and warnings in bold.
fn told(line: &Line) -> String {
    let mut told = String::new();
    for piece in &line.pieces {
        let text = markdown_escaped(&piece.text);
        let inner = text.trim();
        let is_bold = matches!(piece.role, Role::Strong | Role::Warning) && !inner.is_empty();
        if is_bold {
            // Blanks within the stars would leave them as they stand.
            let start = text.len() - text.trim_start().len();
            let end = start + inner.len();
            told.push_str(&format!("{}**{inner}**{}", &text[..start], &text[end..]));
        } else {
            told.push_str(&text);
        }
    }
    told
}
