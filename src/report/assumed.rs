//! What was taken for what nobody knew, where a text rests on it.

use crate::case::{Case, Reply};
use crate::formula::{Facts, show_value};
use crate::text::{Line, count};

/// What stands behind a value that rests on settings which nobody knew.
const MARK: &str = "(assumed)";

/// The most that are named (limit of ours: what is read at one go).
const MOST_NAMED: usize = 3;

/// The settings that were answered with *not sure* and what each was taken as; none where the text
/// says of no value that it is assumed.
#[must_use]
pub fn assumed(case: &Case<'_>, told: &Line) -> Option<Line> {
    if !told.to_text().contains(MARK) {
        return None;
    }
    let (sheet, handbook) = (case.worksheet(), case.handbook());
    let taken: Vec<String> = case
        .question_ids()
        .filter(|id| {
            let question = handbook.question(*id);
            let latest = case.latest_answer(*id).map(|given| &given.reply);
            question.is_setting() && question.not_sure.is_some() && latest == Some(&Reply::NotSure)
        })
        .map(|id| {
            let question = handbook.question(id);
            let value = sheet.latest(question.symbol);
            let shown = show_value(&value, &question.kind, question.unit.as_ref());
            format!("\"{}\" {shown}", case.ask(id).to_text())
        })
        .collect();
    let more = taken.len().saturating_sub(MOST_NAMED);
    let more = if more > 0 { format!("; and {}", count(more, "other")) } else { String::new() };
    let named: Vec<&str> = taken.iter().take(MOST_NAMED).map(String::as_str).collect();
    let line = format!("Assumed, since it isn't known: {}{more}.", named.join("; "));
    (!named.is_empty()).then(|| Line::plain(line))
}
