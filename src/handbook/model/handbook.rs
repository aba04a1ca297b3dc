//! The handbook as a whole.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::disputed::{disputed_by, questions_behind};
use super::tested::{asked_in_rounds, questions_tested};
use super::{
    Action, ActionId, Cause, CauseId, Caution, CautionId, Finding, FindingId, Formula, FormulaId,
    Instrument, InstrumentId, Question, QuestionId, Reference, Tree, TreeId,
};
use crate::formula::{Kind, Symbol};
use crate::quantity::UnitExpression;

/// What a name in a formula stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Entry {
    /// A question.
    Question(QuestionId),
    /// A formula.
    Formula(FormulaId),
    /// A finding.
    Finding(FindingId),
}

/// The tables a handbook is made of.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
pub(in crate::handbook) struct Parts {
    pub name: String,
    pub version: String,
    pub call_in: Option<String>,
    pub leave_by: Option<TreeId>,
    pub hash: String,
    pub questions: Vec<Question>,
    pub instruments: Vec<Instrument>,
    pub formulas: Vec<Formula>,
    pub findings: Vec<Finding>,
    pub causes: Vec<Cause>,
    pub actions: Vec<Action>,
    pub trees: Vec<Tree>,
    pub cautions: Vec<Caution>,
    pub references: Vec<Reference>,
    pub entries: Vec<Entry>,
    /// For each symbol, the questions it can be traced to.
    pub questions_under: Vec<Arc<[QuestionId]>>,
}

/// A handbook that has passed the checks needed to run.
#[derive(Clone, Debug)]
pub struct Handbook {
    parts: Parts,
    trees: BTreeMap<String, TreeId>,
    causes: BTreeMap<String, CauseId>,
    cautions: BTreeMap<String, CautionId>,
    actions: BTreeMap<String, ActionId>,
    names: BTreeMap<String, Symbol>,
    outdated_by: BTreeMap<QuestionId, OutdatedBy>,
    disputed_by: Vec<Vec<FindingId>>,
    questions_behind: Vec<Arc<[QuestionId]>>,
    questions_tested: Vec<Vec<QuestionId>>,
    asked_in_rounds: Vec<bool>,
}

/// What makes the answers to a question tell of something else than what is there now.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OutdatedBy {
    /// The actions that do, once they are done.
    pub actions: Vec<ActionId>,
    /// The questions that do, once their answer has changed.
    pub questions: Vec<QuestionId>,
}

macro_rules! tables {
    ($($(#[$doc:meta])* $many:ident, $one:ident, $item:ident, $id:ident;)*) => {
        $(
            #[doc = concat!("All ", stringify!($many), ", in the order of the files.")]
            #[must_use]
            pub fn $many(&self) -> &[$item] {
                &self.parts.$many
            }

            #[doc = concat!("The ", stringify!($one), " behind an id of this handbook.")]
            #[must_use]
            pub fn $one(&self, id: $id) -> &$item {
                &self.parts.$many[id.index()]
            }
        )*
    };
}

impl Handbook {
    pub(in crate::handbook) fn new(parts: Parts) -> Self {
        let names = parts
            .entries
            .iter()
            .enumerate()
            .map(|(i, entry)| (entry_id(&parts, *entry).to_owned(), Symbol(i as u32)))
            .collect();
        Self {
            trees: parts.trees.iter().enumerate().map(|(i, t)| (t.id.clone(), TreeId(i))).collect(),
            causes: by_id(&parts.causes, |c| &c.id, CauseId),
            cautions: by_id(&parts.cautions, |c| &c.id, CautionId),
            actions: by_id(&parts.actions, |a| &a.id, ActionId),
            names,
            outdated_by: outdated_by(&parts),
            disputed_by: disputed_by(&parts),
            questions_behind: questions_behind(&parts),
            questions_tested: questions_tested(&parts),
            asked_in_rounds: asked_in_rounds(&parts),
            parts,
        }
    }

    pub(in crate::handbook) fn parts(&self) -> &Parts {
        &self.parts
    }

    tables! {
        questions, question, Question, QuestionId;
        instruments, instrument, Instrument, InstrumentId;
        formulas, formula, Formula, FormulaId;
        findings, finding, Finding, FindingId;
        causes, cause, Cause, CauseId;
        actions, action, Action, ActionId;
        trees, tree, Tree, TreeId;
        cautions, caution, Caution, CautionId;
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.parts.name
    }

    /// Its version, as its author wrote it.
    #[must_use]
    pub fn version(&self) -> &str {
        &self.parts.version
    }

    /// Whom to call in where its advice ends: `a person licensed for refrigerant work`.
    #[must_use]
    pub fn call_in(&self) -> &str {
        self.parts.call_in.as_deref().unwrap_or("a licensed person")
    }

    /// The tree that says how to leave the work safely.
    #[must_use]
    pub fn leave_by(&self) -> Option<TreeId> {
        self.parts.leave_by
    }

    /// The hash of all its files, in hexadecimal; the same files give the same hash.
    #[must_use]
    pub fn hash(&self) -> &str {
        &self.parts.hash
    }

    /// All published sources.
    #[must_use]
    pub fn references(&self) -> &[Reference] {
        &self.parts.references
    }

    /// What a symbol stands for.
    #[must_use]
    pub fn entry(&self, symbol: Symbol) -> Entry {
        self.parts.entries[symbol.0 as usize]
    }

    /// The id behind a symbol.
    #[must_use]
    pub fn symbol_name(&self, symbol: Symbol) -> &str {
        entry_id(&self.parts, self.entry(symbol))
    }

    /// The same handbook, which shows its quantities in other units, each instead of the one named. In
    /// such a unit a bare number is read, too, unless the question itself names its own. What texts say in
    /// a unit of their own stays as it is.
    #[must_use]
    pub fn shown_in(mut self, instead: &[(String, UnitExpression)]) -> Self {
        // `K` alone is a temperature or a difference of two; what is measured tells which.
        let other = |unit: &UnitExpression, kind: &Kind| {
            let is_it = |(from, to): &&(String, UnitExpression)| {
                let is_alike = to.kind == unit.kind || *kind == Kind::Quantity(to.kind);
                *from == unit.symbol && is_alike
            };
            instead.iter().find(is_it).map(|(_, to)| to.clone())
        };
        for question in &mut self.parts.questions {
            let own = question.unit.as_ref().filter(|unit| !names(question, unit));
            if let Some(other) = own.and_then(|unit| other(unit, &question.kind)) {
                question.unit = Some(other);
            }
        }
        for formula in &mut self.parts.formulas {
            let kind = formula.is.kind().clone();
            if let Some(other) = formula.unit.as_ref().and_then(|unit| other(unit, &kind)) {
                formula.unit = Some(other);
            }
        }
        self
    }

    /// The symbol of a question, formula or finding, by its id.
    #[must_use]
    pub fn symbol(&self, id: &str) -> Option<Symbol> {
        self.names.get(id).copied()
    }

    /// How many names there are; symbols are `0..` this.
    #[must_use]
    pub fn symbols(&self) -> usize {
        self.parts.entries.len()
    }

    /// The questions that a name can be traced to, in the order of the table; for a question,
    /// itself and those its instrument's error depends on.
    #[must_use]
    pub fn questions_under(&self, symbol: Symbol) -> &[QuestionId] {
        &self.parts.questions_under[symbol.0 as usize]
    }

    /// The questions with whose answers what a name stands for may change, in the order of the
    /// table: those that it can be traced to, and those of the findings that may say that a reading
    /// among them can't be.
    #[must_use]
    pub fn questions_behind(&self, symbol: Symbol) -> &[QuestionId] {
        &self.questions_behind[symbol.0 as usize]
    }

    /// The findings that, where they are true, say that readings under this one can't be; it says
    /// nothing then, until they are read again.
    #[must_use]
    pub fn disputed_by(&self, finding: FindingId) -> &[FindingId] {
        &self.disputed_by[finding.0]
    }

    /// The questions that a finding's test can be traced to, in the order of the table; `only_if`
    /// and what else it names don't count.
    #[must_use]
    pub fn questions_tested(&self, finding: FindingId) -> &[QuestionId] {
        &self.questions_tested[finding.0]
    }

    /// Whether a question is asked in rounds and nowhere else, so that each answer belongs to the
    /// thing that its round is about.
    #[must_use]
    pub fn is_asked_in_rounds(&self, question: QuestionId) -> bool {
        self.asked_in_rounds[question.0]
    }

    /// A question by its id.
    #[must_use]
    pub fn find_question(&self, id: &str) -> Option<QuestionId> {
        match self.entry(self.symbol(id)?) {
            Entry::Question(question) => Some(question),
            _ => None,
        }
    }

    /// A finding by its id.
    #[must_use]
    pub fn find_finding(&self, id: &str) -> Option<FindingId> {
        match self.entry(self.symbol(id)?) {
            Entry::Finding(finding) => Some(finding),
            _ => None,
        }
    }

    /// A tree by its id.
    #[must_use]
    pub fn find_tree(&self, id: &str) -> Option<TreeId> {
        self.trees.get(id).copied()
    }

    /// The tree to begin with where none is named: `start`, or the only one.
    #[must_use]
    pub fn first_tree(&self) -> Option<TreeId> {
        let only = || (self.trees().len() == 1).then(|| TreeId::at(0));
        self.find_tree("start").or_else(only)
    }

    /// A tree with all that it visits or goes on to; those it only offers at an end don't count.
    #[must_use]
    pub fn trees_reached(&self, tree: TreeId) -> BTreeSet<TreeId> {
        let mut reached = BTreeSet::new();
        let mut open = vec![tree];
        while let Some(tree) = open.pop() {
            if reached.insert(tree) {
                open.extend(self.tree(tree).leads_to());
            }
        }
        reached
    }

    /// A cause by its id.
    #[must_use]
    pub fn find_cause(&self, id: &str) -> Option<CauseId> {
        self.causes.get(id).copied()
    }

    /// A caution by its id.
    #[must_use]
    pub fn find_caution(&self, id: &str) -> Option<CautionId> {
        self.cautions.get(id).copied()
    }

    /// An action by its id.
    #[must_use]
    pub fn find_action(&self, id: &str) -> Option<ActionId> {
        self.actions.get(id).copied()
    }

    /// Every question's id with its place.
    pub fn question_ids(&self) -> impl Iterator<Item = QuestionId> + use<> {
        (0..self.parts.questions.len()).map(QuestionId)
    }

    /// Every finding's id with its place.
    pub fn finding_ids(&self) -> impl Iterator<Item = FindingId> + use<> {
        (0..self.parts.findings.len()).map(FindingId)
    }

    /// Every cause's place.
    pub fn cause_ids(&self) -> impl Iterator<Item = CauseId> + use<> {
        (0..self.parts.causes.len()).map(CauseId)
    }

    /// Every action's place.
    pub fn action_ids(&self) -> impl Iterator<Item = ActionId> + use<> {
        (0..self.parts.actions.len()).map(ActionId)
    }

    /// Every formula's place.
    pub fn formula_ids(&self) -> impl Iterator<Item = FormulaId> + use<> {
        (0..self.parts.formulas.len()).map(FormulaId)
    }

    /// The unit in which a name is shown, if it is a quantity.
    #[must_use]
    pub fn unit(&self, symbol: Symbol) -> Option<&UnitExpression> {
        match self.entry(symbol) {
            Entry::Question(id) => self.question(id).unit.as_ref(),
            Entry::Formula(id) => self.formula(id).unit.as_ref(),
            Entry::Finding(_) => None,
        }
    }

    /// What outdates the answers to a question, if anything does.
    #[must_use]
    pub fn outdated_by(&self, question: QuestionId) -> Option<&OutdatedBy> {
        self.outdated_by.get(&question)
    }

    /// The choice question that says which unit the face shows that a question is read from.
    #[must_use]
    pub fn face(&self, question: QuestionId) -> Option<QuestionId> {
        self.instrument(self.question(question).instrument?).face
    }

    /// What a name gives.
    #[must_use]
    pub fn kind(&self, symbol: Symbol) -> &Kind {
        match self.entry(symbol) {
            Entry::Question(id) => &self.question(id).kind,
            Entry::Formula(id) => self.formula(id).is.kind(),
            Entry::Finding(id) => match self.finding(id).observes {
                super::Observes::When(_) => &Kind::YesNo,
                super::Observes::Of(question) => &self.question(question).kind,
            },
        }
    }
}

fn outdated_by(parts: &Parts) -> BTreeMap<QuestionId, OutdatedBy> {
    let mut all: BTreeMap<QuestionId, OutdatedBy> = BTreeMap::new();
    for (place, action) in parts.actions.iter().enumerate() {
        for question in &action.outdates {
            all.entry(*question).or_default().actions.push(ActionId(place));
        }
    }
    for (place, changed) in parts.questions.iter().enumerate() {
        for question in &changed.outdates {
            all.entry(*question).or_default().questions.push(QuestionId(place));
        }
    }
    all
}

fn by_id<T, I>(
    items: &[T],
    id: impl Fn(&T) -> &String,
    make: impl Fn(usize) -> I,
) -> BTreeMap<String, I> {
    items.iter().enumerate().map(|(i, item)| (id(item).clone(), make(i))).collect()
}

fn entry_id(parts: &Parts, entry: Entry) -> &str {
    match entry {
        Entry::Question(id) => &parts.questions[id.index()].id,
        Entry::Formula(id) => &parts.formulas[id.index()].id,
        Entry::Finding(id) => &parts.findings[id.index()].id,
    }
}

/// Whether a question says in its own words in which unit it is answered.
fn names(question: &Question, unit: &UnitExpression) -> bool {
    let texts = [Some(&question.ask), question.say.as_ref()];
    texts.into_iter().flatten().any(|text| {
        text.spelled().split(|c: char| !c.is_alphanumeric()).any(|word| word == unit.symbol)
    })
}
