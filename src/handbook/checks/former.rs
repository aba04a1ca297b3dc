//! Ids that entries had before: none may still be in use, and no two entries may claim one.

use std::collections::BTreeMap;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::Spanned;
use crate::document::raw::{RawHandbook, RawTree};
use crate::source::Span;

/// An entry: its section's word, its id, and the id that it had before.
type Named<'a> = (&'a str, &'a Spanned<String>, Option<&'a Spanned<String>>);

macro_rules! named {
    ($word:literal, $entries:expr) => {
        $entries.iter().map(|entry| ($word, &entry.id, entry.was.as_ref()))
    };
}

pub(super) fn check(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    let questions = named!("question", raw.questions);
    let values = questions.chain(named!("formula", raw.formulas));
    space(values.chain(named!("finding", raw.findings)), faults);
    space(named!("instrument", raw.instruments), faults);
    space(named!("cause", raw.causes), faults);
    space(named!("action", raw.actions), faults);
    space(named!("tree", raw.trees), faults);
    space(named!("caution", raw.cautions), faults);
    space(named!("source", raw.sources), faults);
    for RawTree { steps, .. } in &raw.trees {
        space(named!("step", steps), faults);
    }
}

/// Checks the entries that share one space of names.
fn space<'a>(entries: impl Iterator<Item = Named<'a>>, faults: &mut Vec<Diagnostic>) {
    let entries: Vec<Named<'_>> = entries.collect();
    let live: BTreeMap<&str, (&str, Span)> =
        entries.iter().map(|(what, id, _)| (id.value.as_str(), (*what, id.span))).collect();
    let mut claimed: BTreeMap<&str, Span> = BTreeMap::new();
    for (what, id, was) in &entries {
        let Some(was) = was else { continue };
        let former = was.value.as_str();
        if former == id.value {
            let title = format!("{what} `{former}` says that it was `{former}` before");
            let label = "the id that it has";
            faults.push(Diagnostic::at(Code::NamesItself, title, was.span, label));
        } else if let Some((other, span)) = live.get(former) {
            let title = format!(
                "{what} `{}` was `{former}`, and {other} `{former}` is still there",
                id.value
            );
            let fault = Diagnostic::at(Code::DuplicateId, title, was.span, "a former id");
            faults.push(fault.and_at(*span, format!("this {other} has it now")));
        } else if let Some(first) = claimed.get(former) {
            let title = format!("two entries say that they were `{former}` before");
            let fault = Diagnostic::at(Code::DuplicateId, title, was.span, "second one");
            faults.push(fault.and_at(*first, "first one"));
        } else {
            claimed.insert(former, was.span);
        }
    }
}
