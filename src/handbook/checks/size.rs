//! How much a handbook may hold, so that checking it always comes to an end soon.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::Spanned;
use crate::document::raw::RawHandbook;

/// The most entries of all sections together (limit of ours; the built-in handbook has some 300).
const MOST_ENTRIES: usize = 20_000;

/// The most trees (limit of ours; the built-in handbook has eleven).
const MOST_TREES: usize = 500;

/// The first entry that is too many, if one is: nothing more is then checked.
pub(in crate::handbook) fn too_many(raw: &RawHandbook) -> Option<Diagnostic> {
    let entries = ids(raw);
    let (count, most, what, first) = match raw.trees.get(MOST_TREES) {
        Some(tree) => (raw.trees.len(), MOST_TREES, "trees", &tree.id),
        None => (entries.len(), MOST_ENTRIES, "entries", *entries.get(MOST_ENTRIES)?),
    };
    let title = format!("the handbook has {count} {what}, and may have {most}");
    let fault = Diagnostic::at(Code::TooLarge, title, first.span, "one too many");
    Some(fault.note("what stands in the files has been read, and nothing more was checked"))
}

fn ids(raw: &RawHandbook) -> Vec<&Spanned<String>> {
    let questions = raw.questions.iter().map(|entry| &entry.id);
    let instruments = raw.instruments.iter().map(|entry| &entry.id);
    let formulas = raw.formulas.iter().map(|entry| &entry.id);
    let findings = raw.findings.iter().map(|entry| &entry.id);
    let causes = raw.causes.iter().map(|entry| &entry.id);
    let actions = raw.actions.iter().map(|entry| &entry.id);
    let trees = raw.trees.iter().map(|entry| &entry.id);
    let cautions = raw.cautions.iter().map(|entry| &entry.id);
    let sources = raw.sources.iter().map(|entry| &entry.id);
    let what_is_known = questions.chain(instruments).chain(formulas).chain(findings);
    what_is_known.chain(causes).chain(actions).chain(trees).chain(cautions).chain(sources).collect()
}
