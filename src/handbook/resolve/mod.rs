//! From a handbook as written to its tables: every name found, every formula checked.
//!
//! One file per section. Each entry that can be built is built even if others can't, so that all
//! faults of all files come in one run; a handbook is made of them only if there were none.

mod action;
mod basis;
mod cause;
mod caution;
mod closing;
mod declare;
mod face;
mod finding;
mod formula;
mod ids;
mod in_words;
mod instrument;
mod likelihood;
mod percent;
mod question;
mod setting;
mod share;
mod step;
mod texts;
mod tree;

pub(super) use caution::severity_words;
pub(super) use closing::closing_words;
pub(super) use declare::kind_words;
pub(super) use ids::Ids;

use super::model::Parts;
use super::names::NameTable;
use crate::diagnostic::Diagnostic;
use crate::document::raw::RawHandbook;
use crate::source::Sources;

/// The work of resolving one handbook.
struct Resolver<'a> {
    raw: &'a RawHandbook,
    sources: &'a Sources,
    ids: Ids,
    names: NameTable,
    faults: Vec<Diagnostic>,
    parts: Parts,
}

/// The tables of a handbook, as far as they could be built, and every fault on the way.
pub(super) fn resolve(raw: &RawHandbook, sources: &Sources) -> (Parts, Vec<Diagnostic>) {
    let mut resolver = Resolver {
        raw,
        sources,
        ids: Ids::of(raw),
        names: NameTable::default(),
        faults: Vec::new(),
        parts: Parts::default(),
    };
    resolver.header();
    resolver.declare_names();
    resolver.formulas();
    resolver.instruments();
    resolver.questions();
    resolver.cautions();
    resolver.references();
    resolver.actions();
    resolver.causes();
    resolver.findings();
    resolver.trees();
    (resolver.parts, resolver.faults)
}

impl Resolver<'_> {
    fn header(&mut self) {
        let text = |scalar: &Option<crate::document::Scalar>| {
            scalar.as_ref().map(|scalar| scalar.text.clone()).unwrap_or_default()
        };
        self.parts.name = text(&self.raw.name);
        self.parts.version = text(&self.raw.version);
        self.parts.call_in = self.raw.call_in.as_ref().map(|scalar| scalar.text.clone());
        if let Some(leave_by) = &self.raw.leave_by {
            self.parts.leave_by = self.ids.trees.find(leave_by, &mut self.faults);
        }
    }
}
