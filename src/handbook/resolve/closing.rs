//! What an end says of the work.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::{RawStep, RawTree};
use crate::handbook::model::Closes;

/// The words for what an end says of the work.
pub(in crate::handbook) fn closing_words() -> Vec<&'static str> {
    Closes::ALL.map(Closes::word).to_vec()
}

impl Resolver<'_> {
    pub(super) fn closing(&mut self, raw: &RawStep) -> Option<Closes> {
        let written = raw.closes.as_ref()?;
        let word = written.text.trim();
        let found = Closes::ALL.into_iter().find(|known| known.word() == word);
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
        found
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
