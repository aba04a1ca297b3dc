//! What an end says of the work.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::{RawStep, RawTree};
use crate::handbook::model::Closes;

const CLOSINGS: [(&str, Closes); 4] = [
    ("proved", Closes::Proved),
    ("done", Closes::Done),
    ("planned", Closes::Planned),
    ("waits", Closes::Waits),
];

/// The words for what an end says of the work.
pub(in crate::handbook) fn closing_words() -> Vec<&'static str> {
    CLOSINGS.iter().map(|(word, _)| *word).collect()
}

impl Resolver<'_> {
    pub(super) fn closing(&mut self, raw: &RawStep) -> Option<Closes> {
        let written = raw.closes.as_ref()?;
        let word = written.text.trim();
        let found = CLOSINGS.iter().find(|(known, _)| *known == word);
        if found.is_none() {
            let title = format!("`{word}` doesn't say how step `{}` closes", raw.id.value);
            let near = near_name(word, closing_words());
            self.faults.push(
                Diagnostic::at(
                    Code::UnknownWord,
                    title,
                    written.span,
                    "`proved`, `done`, `planned` or `waits` belongs here",
                )
                .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
            );
        }
        found.map(|(_, closing)| *closing)
    }

    /// An end of a round leads to the next one and closes nothing.
    pub(super) fn rounds_close_nothing(&mut self, raw: &RawTree) {
        let Some(rounds) = &raw.rounds else { return };
        for step in &raw.steps {
            let Some(closes) = &step.closes else { continue };
            let title = format!("step `{}` closes the work in a tree of rounds", step.id.value);
            self.faults.push(
                Diagnostic::at(
                    Code::KeysTogether,
                    title,
                    closes.span,
                    "only the round is over here",
                )
                .and_at(rounds.span, "one round for each thing named")
                .help("take `closes` out"),
            );
        }
    }
}
