//! What was asked and answered, in order.

use crate::case::Case;
use crate::text::{Line, Role};

/// The answers that stand, each with its question, under a heading; nothing where none was given.
#[must_use]
pub fn answers(case: &Case<'_>) -> Vec<Line> {
    let given = &case.record().given;
    let told = given.iter().map(|given| {
        let ask = case.ask(given.question).to_text();
        Line::plain(format!("- {ask} ")).push(Role::Value, given.typed.clone())
    });
    let heading = (!given.is_empty()).then(|| Line::strong("What was answered"));
    heading.into_iter().chain(told).collect()
}
