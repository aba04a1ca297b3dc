//! Ids of every section, by name.

use std::collections::BTreeMap;

use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Spanned;
use crate::document::raw::{RawEntry, RawHandbook};
use crate::handbook::model::{
    ActionId, CauseId, CautionId, FindingId, FormulaId, InstrumentId, QuestionId, ReferenceId,
    TreeId,
};

/// The ids of one section with their places.
#[derive(Debug)]
pub(super) struct Index<I> {
    what: &'static str,
    places: BTreeMap<String, I>,
}

impl<I: Copy> Index<I> {
    fn new<T: RawEntry>(what: &'static str, entries: &[T], make: impl Fn(usize) -> I) -> Self {
        let places = entries.iter().enumerate();
        Self { what, places: places.map(|(i, e)| (e.id().value.clone(), make(i))).collect() }
    }

    pub(super) fn get(&self, id: &str) -> Option<I> {
        self.places.get(id).copied()
    }

    /// The place behind a name, or a fault that says what the name should have been.
    pub(super) fn find(&self, name: &Spanned<String>, faults: &mut Vec<Diagnostic>) -> Option<I> {
        let found = self.get(&name.value);
        if found.is_none() {
            faults.push(self.unknown(name));
        }
        found
    }

    fn unknown(&self, name: &Spanned<String>) -> Diagnostic {
        let title = format!("there is no {} `{}`", self.what, name.value);
        let near = near_name(&name.value, self.places.keys().map(String::as_str));
        Diagnostic::at(Code::UnknownName, title, name.span, format!("no {} has this id", self.what))
            .maybe_help(near.map(|near| format!("did you mean `{near}`?")))
    }

    /// Every name that can be found; a fault for each that can't.
    pub(super) fn find_all(
        &self,
        names: &[Spanned<String>],
        faults: &mut Vec<Diagnostic>,
    ) -> Vec<I> {
        names.iter().filter_map(|name| self.find(name, faults)).collect()
    }
}

/// The ids of all sections.
#[derive(Debug)]
pub(super) struct Ids {
    pub questions: Index<QuestionId>,
    pub instruments: Index<InstrumentId>,
    pub formulas: Index<FormulaId>,
    pub findings: Index<FindingId>,
    pub causes: Index<CauseId>,
    pub actions: Index<ActionId>,
    pub trees: Index<TreeId>,
    pub cautions: Index<CautionId>,
    pub references: Index<ReferenceId>,
}

impl Ids {
    pub(super) fn of(raw: &RawHandbook) -> Self {
        Self {
            questions: Index::new("question", &raw.questions, QuestionId::at),
            instruments: Index::new("instrument", &raw.instruments, InstrumentId::at),
            formulas: Index::new("formula", &raw.formulas, FormulaId::at),
            findings: Index::new("finding", &raw.findings, FindingId::at),
            causes: Index::new("cause", &raw.causes, CauseId::at),
            actions: Index::new("action", &raw.actions, ActionId::at),
            trees: Index::new("tree", &raw.trees, TreeId::at),
            cautions: Index::new("caution", &raw.cautions, CautionId::at),
            references: Index::new("source", &raw.sources, ReferenceId::at),
        }
    }
}
