//! Ids of every section, by name.

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Spanned;
use crate::document::raw::{RawEntry, RawHandbook};
use crate::handbook::model::{
    ActionId, CauseId, CautionId, FindingId, InstrumentId, QuestionId, ReferenceId, TreeId,
};
use crate::text::list_and;

/// The ids of one section with their places.
#[derive(Debug)]
pub(in crate::handbook) struct Index<I> {
    what: &'static str,
    places: BTreeMap<String, I>,
    all: Rc<Everything>,
}

/// What carries a name, in every section, with its article.
type Everything = BTreeMap<String, Vec<String>>;

impl<I: Copy> Index<I> {
    fn new<T: RawEntry>(
        what: &'static str,
        entries: &[T],
        all: &Rc<Everything>,
        make: impl Fn(usize) -> I,
    ) -> Self {
        let places = entries.iter().enumerate();
        let places = places.map(|(i, e)| (e.id().value.clone(), make(i))).collect();
        Self { what, places, all: Rc::clone(all) }
    }

    pub(in crate::handbook) fn get(&self, id: &str) -> Option<I> {
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
        let label = match self.all.get(&name.value) {
            Some(others) => format!("`{}` is {}", name.value, list_and(others)),
            None => format!("no {} has this id", self.what),
        };
        let near = near_name(&name.value, self.places.keys().map(String::as_str));
        let near = near.filter(|_| !self.all.contains_key(&name.value));
        let is_unheard = near.is_none() && !self.all.contains_key(&name.value);
        let mut fault = Diagnostic::at(Code::UnknownName, title, name.span, label);
        if is_unheard {
            let what = self.what;
            let article = if matches!(what, "instrument" | "action") { "an" } else { "a" };
            let note = format!("{article} {what} is written under `{what}s:`, in any file");
            fault = fault.note(note);
        }
        fault.maybe_help(near.map(|near| format!("did you mean `{near}`?")))
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
pub(in crate::handbook) struct Ids {
    pub questions: Index<QuestionId>,
    pub instruments: Index<InstrumentId>,
    pub findings: Index<FindingId>,
    pub causes: Index<CauseId>,
    pub actions: Index<ActionId>,
    pub trees: Index<TreeId>,
    pub cautions: Index<CautionId>,
    pub references: Index<ReferenceId>,
}

impl Ids {
    pub(in crate::handbook) fn of(raw: &RawHandbook) -> Self {
        let all = Rc::new(everything(raw));
        Self {
            questions: Index::new("question", &raw.questions, &all, QuestionId::at),
            instruments: Index::new("instrument", &raw.instruments, &all, InstrumentId::at),
            findings: Index::new("finding", &raw.findings, &all, FindingId::at),
            causes: Index::new("cause", &raw.causes, &all, CauseId::at),
            actions: Index::new("action", &raw.actions, &all, ActionId::at),
            trees: Index::new("tree", &raw.trees, &all, TreeId::at),
            cautions: Index::new("caution", &raw.cautions, &all, CautionId::at),
            references: Index::new("source", &raw.sources, &all, ReferenceId::at),
        }
    }
}

fn everything(raw: &RawHandbook) -> Everything {
    let mut all = Everything::new();
    add(&raw.questions, &mut all);
    add(&raw.instruments, &mut all);
    add(&raw.formulas, &mut all);
    add(&raw.findings, &mut all);
    add(&raw.causes, &mut all);
    add(&raw.actions, &mut all);
    add(&raw.trees, &mut all);
    add(&raw.cautions, &mut all);
    add(&raw.sources, &mut all);
    all
}

fn add<T: RawEntry>(entries: &[T], all: &mut Everything) {
    for entry in entries {
        all.entry(entry.id().value.clone()).or_default().push(T::SECTION.one_entry());
    }
}
