//! Questions and formulas that nothing asks or looks at.

use std::collections::BTreeSet;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{
    RawCause, RawFinding, RawHandbook, RawNext, RawStep, RawTest, RawWork, Section,
};
use crate::document::{Scalar, Spanned};
use crate::formula::parse;
use crate::source::Span;

/// A handbook without a tree is a part that others go on with: nothing in it is idle yet.
pub(super) fn advise(raw: &RawHandbook, advice: &mut Vec<Diagnostic>) {
    if raw.trees.is_empty() {
        return;
    }
    let used = used(raw);
    let questions = raw.questions.iter().map(|question| (Section::Questions, &question.id));
    let formulas = raw.formulas.iter().map(|formula| (Section::Formulas, &formula.id));
    for (section, id) in questions.chain(formulas).filter(|(_, id)| !used.contains(&id.value)) {
        let title = format!("nothing uses {} `{}`", section.entry(), id.value);
        let label = match section {
            Section::Questions => "no tree asks it, and nothing looks at its answer",
            _ => "no formula, finding, branch or text names it",
        };
        advice.push(Diagnostic::at(Code::NeverUsed, title, id.span, label));
    }
}

/// Every name that a tree asks, or that a formula or a text looks at.
fn used(raw: &RawHandbook) -> BTreeSet<String> {
    let mut used = Used::default();
    for question in &raw.questions {
        used.texts([&question.ask, &question.say, &question.listen, &question.why]);
    }
    for instrument in &raw.instruments {
        used.formulas([&instrument.scale, &instrument.offset, &instrument.resolution]);
    }
    raw.formulas.iter().for_each(|formula| used.formulas([&formula.is]));
    raw.findings.iter().for_each(|finding| used.finding(finding));
    raw.causes.iter().for_each(|cause| used.cause(cause));
    for action in &raw.actions {
        used.texts([&action.text]);
        used.formulas([&action.done_if, &action.not_if]);
    }
    for caution in &raw.cautions {
        used.formulas([&caution.only_if]);
        used.texts([&caution.text, &caution.refer]);
    }
    for tree in &raw.trees {
        used.names(&tree.rounds);
        tree.steps.iter().for_each(|step| used.step(step));
    }
    used.found
}

#[derive(Default)]
struct Used {
    found: BTreeSet<String>,
}

impl Used {
    fn finding(&mut self, finding: &RawFinding) {
        match &finding.test {
            Some(RawTest::When(text)) => self.formula(&text.text, text.span),
            Some(RawTest::Of(name)) => drop(self.found.insert(name.value.clone())),
            None => {}
        }
        self.formulas([&finding.only_if]);
        self.texts([&finding.so, &finding.so_not, &finding.refer]);
    }

    fn cause(&mut self, cause: &RawCause) {
        self.names(cause.more_if.iter().chain(&cause.less_if).map(|(name, _)| name));
        self.texts([&cause.because]);
    }

    fn step(&mut self, step: &RawStep) {
        match &step.work {
            Some(RawWork::Ask(name)) => drop(self.found.insert(name.value.clone())),
            Some(RawWork::Do(text) | RawWork::Stop(text) | RawWork::End(text)) => self.text(text),
            _ => {}
        }
        if let Some(RawNext::ByFormula(all)) = &step.next {
            let conditions = all.branches.iter().filter_map(|branch| branch.condition.as_ref());
            conditions.for_each(|condition| self.formula(&condition.text, condition.span));
        }
        self.texts([&step.why, &step.refer]);
    }

    fn names<'a>(&mut self, names: impl IntoIterator<Item = &'a Spanned<String>>) {
        self.found.extend(names.into_iter().map(|name| name.value.clone()));
    }

    fn formulas<const N: usize>(&mut self, texts: [&Option<Scalar>; N]) {
        texts.into_iter().flatten().for_each(|text| self.formula(&text.text, text.span));
    }

    fn texts<const N: usize>(&mut self, texts: [&Option<Scalar>; N]) {
        texts.into_iter().flatten().for_each(|text| self.text(text));
    }

    /// The names in the braces of a text.
    fn text(&mut self, text: &Scalar) {
        let braces = text.text.split('{').skip(1).filter_map(|rest| rest.split_once('}'));
        braces.for_each(|(formula, _)| self.formula(formula, text.span));
    }

    fn formula(&mut self, text: &str, place: Span) {
        if let Ok(syntax) = parse(text, &|_| place) {
            self.found.extend(syntax.names());
        }
    }
}
