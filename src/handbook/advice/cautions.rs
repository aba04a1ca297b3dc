//! What can hurt and may be met without a word of warning.
//!
//! A question is not only asked where its tree asks it: it is volunteered, named as the next
//! check, answered in a script. An action is proposed for a cause as well as done in a tree. So a
//! caution that stands at a step alone may never be seen.

use std::collections::BTreeMap;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::Spanned;
use crate::document::raw::{RawHandbook, RawStep, RawTree, RawWork};
use crate::source::Span;

pub(super) fn advise(raw: &RawHandbook, advice: &mut Vec<Diagnostic>) {
    for action in &raw.actions {
        let is_hazardous = action.hazard.as_ref().is_some_and(|hazard| hazard.text.trim() == "yes");
        if is_hazardous && action.cautions.is_empty() {
            let title = format!("action `{}` can hurt and has no caution", action.id.value);
            let fault =
                Diagnostic::at(Code::NoCaution, title, action.id.span, "no `cautions` here");
            advice.push(fault.note("a cause proposes it wherever its tree is not being walked"));
        }
    }
    let own = Own::of(raw);
    for tree in &raw.trees {
        for step in &tree.steps {
            own.compare(tree, step, advice);
        }
    }
}

/// The cautions that questions and actions carry themselves.
struct Own<'a> {
    questions: BTreeMap<&'a str, (Span, &'a [Spanned<String>])>,
    actions: BTreeMap<&'a str, (Span, &'a [Spanned<String>])>,
}

impl<'a> Own<'a> {
    fn of(raw: &'a RawHandbook) -> Self {
        let questions = raw.questions.iter();
        let actions = raw.actions.iter();
        Self {
            questions: questions.map(|q| (q.id.as_str(), (q.id.span, &*q.cautions))).collect(),
            actions: actions.map(|a| (a.id.as_str(), (a.id.span, &*a.cautions))).collect(),
        }
    }

    /// Names each caution of a step that what the step asks or does does not carry itself.
    fn compare(&self, tree: &RawTree, step: &RawStep, advice: &mut Vec<Diagnostic>) {
        let (word, met, at) = match &step.work {
            Some(RawWork::Ask(id)) => ("question", id, self.questions.get(id.as_str())),
            Some(RawWork::Action(id)) => ("action", id, self.actions.get(id.as_str())),
            _ => return,
        };
        let Some((place, carried)) = at else { return };
        for caution in &step.cautions {
            if carried.iter().any(|own| own.value == caution.value) {
                continue;
            }
            let title = format!(
                "caution `{}` stands at a step of tree `{}`, not at {word} `{}`",
                caution.value, tree.id.value, met.value
            );
            advice.push(
                Diagnostic::at(Code::CautionAtStepOnly, title, caution.span, "at this step only")
                    .and_at(*place, "met in other ways too")
                    .note(
                        "questions are volunteered and named as next checks, actions are proposed \
                         for causes; a caution at the step is not seen there",
                    )
                    .help(format!("list it under `cautions` of {word} `{}`", met.value)),
            );
        }
    }
}
