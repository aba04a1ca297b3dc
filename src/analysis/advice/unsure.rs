//! Instructions that tell of a value which nobody may know: the question was asked, the answer was
//! "not sure", and no branch kept that from the instruction.
//!
//! What was found may leave out a sentence that can't be told; an instruction may not. Followed is
//! the way of an unknown answer alone: a condition that looks at it leads where `unknown` does.

use std::collections::BTreeSet;

use super::{step, trees};
use crate::analysis::branch::Branch;
use crate::analysis::reach::Analysis;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{RawHandbook, RawTree, RawWork};
use crate::formula::{Checked, CheckedTemplate, How, Kind};
use crate::handbook::{Next, QuestionId, Step, StepId, StepKind, Target, Tree, TreeId};

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    let handbook = analysis.handbook();
    for (id, raw) in trees(written, handbook) {
        let tree = handbook.tree(id);
        for (place, at) in tree.steps.iter().enumerate() {
            let StepKind::Do { text, .. } = &at.kind else { continue };
            for question in told(analysis, text) {
                let unsure = Unsure { analysis, id, tree, question };
                if let Some(asked) = unsure.leads_to(StepId::at(place)) {
                    advice.extend(unsure.fault(raw, place, asked));
                }
            }
        }
    }
}

/// The observations that a text tells of by their latest answer.
fn told(analysis: &Analysis<'_>, text: &CheckedTemplate) -> BTreeSet<QuestionId> {
    let handbook = analysis.handbook();
    let uses = text.uses();
    let latest = uses.iter().filter(|used| used.how == How::Latest);
    let under = latest.flat_map(|used| handbook.questions_under(used.symbol)).copied();
    under
        .filter(|id| {
            let question = handbook.question(*id);
            !question.is_setting() && question.kind != Kind::Text
        })
        .collect()
}

/// One question of a tree whose answer is "not sure".
struct Unsure<'a, 'h> {
    analysis: &'a Analysis<'h>,
    id: TreeId,
    tree: &'a Tree,
    question: QuestionId,
}

impl Unsure<'_, '_> {
    /// A step that asks the question and from which a way leads on to this step, though the answer
    /// was "not sure".
    fn leads_to(&self, goal: StepId) -> Option<StepId> {
        let steps = (0..self.tree.steps.len()).map(StepId::at);
        let mut asking = steps.filter(|place| self.asks(self.tree.step(*place)).is_some());
        asking
            .find(|place| !self.analysis.is_out_of_reach(self.id, *place) && self.way(*place, goal))
    }

    fn way(&self, from: StepId, goal: StepId) -> bool {
        let mut open = self.next(from);
        let mut met = BTreeSet::new();
        while let Some(place) = open.pop() {
            if place == goal {
                return true;
            }
            // Asked anew, it begins anew; what another tree asks is not followed.
            let step = self.tree.step(place);
            if self.asks(step) == Some(true) || self.is_asked_by_a_visit(step) {
                continue;
            }
            if met.insert(place) {
                open.extend(self.next(place));
            }
        }
        false
    }

    /// Whether a step asks the question, and whether it does so anew.
    fn asks(&self, step: &Step) -> Option<bool> {
        match step.kind {
            StepKind::Ask { question, again } if question == self.question => Some(again),
            _ => None,
        }
    }

    fn is_asked_by_a_visit(&self, step: &Step) -> bool {
        match step.kind {
            StepKind::Visit(tree) => {
                self.analysis.explored.doings[tree.index()].asked.contains_key(&self.question)
            }
            _ => false,
        }
    }

    /// The steps that a step leads to while the answer is "not sure".
    fn next(&self, place: StepId) -> Vec<StepId> {
        let step = self.tree.step(place);
        let takes = |branch| !self.analysis.is_never_taken(self.id, place, branch);
        let mut targets = Vec::new();
        match &step.next {
            Next::Nothing => {}
            Next::Always(target) => targets.push(*target),
            Next::ByAnswer { targets: all, not_sure } => match self.asks(step) {
                Some(_) => targets.extend(not_sure.or_else(|| all.last().copied())),
                None => {
                    let each = all.iter().enumerate();
                    let taken = each.filter(|(answer, _)| takes(Branch::Answer(*answer)));
                    targets.extend(taken.map(|(_, target)| *target));
                }
            },
            Next::ByRules { rules, otherwise, unknown, .. } => {
                let first = rules.iter().position(|rule| self.looks_at_it(&rule.condition));
                let before = rules.iter().take(first.unwrap_or(rules.len())).enumerate();
                let taken = before.filter(|(rule, _)| takes(Branch::Rule(*rule)));
                targets.extend(taken.map(|(_, rule)| rule.go));
                targets.push(if first.is_some() {
                    unknown.unwrap_or(*otherwise)
                } else {
                    *otherwise
                });
            }
        }
        let own = targets.into_iter().filter_map(|target| match target {
            Target::Step(step) => Some(step),
            Target::Tree(_) => None,
        });
        own.chain(step.bound.map(|(_, then)| then)).collect()
    }

    fn looks_at_it(&self, condition: &Checked) -> bool {
        let handbook = self.analysis.handbook();
        let mut uses = condition.uses().iter();
        uses.any(|used| handbook.questions_under(used.symbol).contains(&self.question))
    }

    fn fault(&self, raw: &RawTree, place: usize, asked: StepId) -> Option<Diagnostic> {
        let raw_step = step(raw, place)?;
        let Some(RawWork::Do(text)) = &raw_step.work else { return None };
        let id = &self.analysis.handbook().question(self.question).id;
        let title =
            format!("step `{}` instructs by `{id}`, which nobody may know", raw_step.id.value);
        let fault =
            Diagnostic::at(Code::UnsureTold, title, text.span, "a value may be missing here");
        let fault = match step(raw, asked.index()) {
            Some(at) => fault.and_at(at.id.span, "who is not sure here comes to that step"),
            None => fault,
        };
        let note = "what was found leaves out a sentence that can't be told; an instruction says \
                    \"not measured\"";
        let help = "lead `unknown` or `not_sure` to an instruction of its own, without the value";
        Some(fault.note(note).help(help))
    }
}
