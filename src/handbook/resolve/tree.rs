//! Trees.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Spanned;
use crate::document::raw::{RawStep, RawTree};
use crate::formula::Kind;
use crate::handbook::model::{QuestionId, Step, StepId, Tree};

/// The steps of one tree, by name.
pub(super) struct StepNames<'a> {
    pub(super) tree: &'a str,
    ids: Vec<&'a str>,
}

impl<'a> StepNames<'a> {
    fn of(raw: &'a RawTree) -> Self {
        Self {
            tree: &raw.id.value,
            ids: raw.steps.iter().map(|step| step.id.value.as_str()).collect(),
        }
    }

    /// The step behind a name, or a fault that says what the name should have been.
    pub(super) fn find(
        &self,
        name: &Spanned<String>,
        faults: &mut Vec<Diagnostic>,
    ) -> Option<StepId> {
        let found = self.ids.iter().position(|id| *id == name.value);
        if found.is_none() {
            let title = format!("tree `{}` has no step `{}`", self.tree, name.value);
            let near = near_name(&name.value, self.ids.iter().copied());
            let fault = Diagnostic::at(Code::DanglingStep, title, name.span, "no step has this id");
            faults.push(match near {
                Some(near) => fault.help(format!("did you mean `{near}`?")),
                None => fault.note("a step is written under `steps:` of the same tree"),
            });
        }
        found.map(StepId::at)
    }
}

impl Resolver<'_> {
    pub(super) fn trees(&mut self) {
        for raw in &self.raw.trees {
            if let Some(tree) = self.tree(raw) {
                self.parts.trees.push(tree);
            }
        }
    }

    fn tree(&mut self, raw: &RawTree) -> Option<Tree> {
        let names = StepNames::of(raw);
        let steps: Vec<Option<Step>> =
            raw.steps.iter().map(|step: &RawStep| self.step(step, &names)).collect();
        let start = raw.start.as_ref().and_then(|name| names.find(name, &mut self.faults));
        self.rounds_close_nothing(raw);
        let rounds = raw.rounds.as_ref().and_then(|name| self.rounds(name));
        let takes = self.time(raw.takes.as_ref());
        // A rough time is for planning: it may do without a basis.
        self.basis("tree", &raw.id, raw.basis.as_ref(), &[("takes", false), ("steps", false)]);
        Some(Tree {
            id: raw.id.value.clone(),
            title: raw.title.as_ref().map(|title| title.text.clone())?,
            say: raw.say.as_ref().map(|say| say.text.clone()),
            takes,
            start: start?,
            steps: steps.into_iter().collect::<Option<_>>()?,
            rounds,
        })
    }

    /// The question that names what each round is about.
    fn rounds(&mut self, name: &Spanned<String>) -> Option<QuestionId> {
        let question = self.ids.questions.find(name, &mut self.faults)?;
        let known = self.names.get(&name.value)?;
        let (kind, declared) = (known.kind.clone()?, known.declared);
        if kind == Kind::Text {
            return Some(question);
        }
        let title =
            format!("`{}` is {}, and rounds are named by a text", name.value, kind.with_article());
        let fault = Diagnostic::at(Code::WrongKind, title, name.span, kind.with_article());
        let fault = fault.and_at(declared, "declared here");
        self.faults.push(fault.help("name a question with `kind: text`"));
        None
    }
}
