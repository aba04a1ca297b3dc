//! Settings of a question in % that are written without it.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::RawQuestion;

impl Resolver<'_> {
    /// Refuses numbers without a unit in a question whose `unit` is %. A ratio needs no unit, so
    /// they would be taken, and `0 to 100` as up to 10000 %.
    pub(super) fn percent_forgotten(&mut self, raw: &RawQuestion) {
        if raw.unit.as_ref().is_none_or(|unit| unit.text.trim() != "%") {
            return;
        }
        let settings = [
            ("range", &raw.range),
            ("usual", &raw.usual),
            ("not_sure", &raw.not_sure),
            ("repeats", &raw.repeats),
        ];
        for (key, text) in settings {
            let found = text.as_ref().and_then(|text| forgotten(raw, key, text));
            self.faults.extend(found);
        }
    }
}

fn forgotten(raw: &RawQuestion, key: &str, text: &Scalar) -> Option<Diagnostic> {
    let written = text.text.trim();
    let parts: Vec<&str> = written.split(" to ").map(str::trim).collect();
    // A low end without a unit has that of the high end.
    let number: f64 = parts.last()?.parse().ok()?;
    let title = format!(
        "`{key}` of question `{}` is `{written}`, without the % of its `unit`",
        raw.id.value
    );
    let label = format!("counts as up to {} %", number * 100.0);
    let numbers: Vec<String> =
        parts.iter().map(|part| format!("{} %", part.trim_end_matches('%').trim_end())).collect();
    Some(
        Diagnostic::at(Code::BadNumber, title, text.span, label)
            .note("without a unit, 1 is the whole: 100 %")
            .help(format!("write `{}`", numbers.join(" to "))),
    )
}
