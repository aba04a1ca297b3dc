//! Texts of steps that tell what may not have been asked on the way there.

use std::collections::BTreeSet;

use super::example::with_answers;
use super::{step, trees};
use crate::analysis::asked::Asked;
use crate::analysis::effort::Effort;
use crate::analysis::moment::Moment;
use crate::analysis::reach::Analysis;
use crate::analysis::witness::{Answering, Goal, Hunt};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{RawHandbook, RawStep, RawWork};
use crate::formula::{CheckedTemplate, How, Kind, Unknown, Value, evaluate};
use crate::handbook::{Handbook, QuestionId, Step, StepId, StepKind, TreeId};

/// How many conditions are evaluated for one step, and for all of a handbook (limits of ours).
const EVALUATIONS_A_STEP: u32 = 200;
const EVALUATIONS: u32 = 4000;

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    let all = Effort::of(EVALUATIONS);
    for (id, raw) in trees(written, analysis.handbook()) {
        let (handbook, tree) = (analysis.handbook(), analysis.handbook().tree(id));
        let wanted: BTreeSet<QuestionId> =
            tree.steps.iter().filter_map(text).flat_map(|text| told(analysis, id, text)).collect();
        if wanted.is_empty() {
            continue;
        }
        let wanted: Vec<QuestionId> = wanted.into_iter().collect();
        let before = Asked::new(handbook, &wanted).before(id);
        for (place, at) in tree.steps.iter().enumerate() {
            let Some(text) = text(at) else { continue };
            let mut open = told(analysis, id, text);
            open.retain(|question| !before[place].contains(question));
            if open.is_empty() {
                continue;
            }
            let effort = all.lend(EVALUATIONS_A_STEP);
            let look = Look { analysis, tree: id, place, text, open: &open, effort: &effort };
            advice.extend(step(raw, place).and_then(|raw| look.fault(raw)));
            all.take_back(&effort);
        }
    }
}

/// The text of a step that tells what was found until then.
fn text(step: &Step) -> Option<&CheckedTemplate> {
    match &step.kind {
        StepKind::Do { text, .. } | StepKind::Stop { text, .. } => Some(text),
        StepKind::End { done, .. } => Some(done),
        _ => None,
    }
}

/// The questions that a text tells of as they are now, and that its tree may ask. What a tree
/// never asks is known from before it; what nobody knows of a setting is assumed, and said so.
fn told(analysis: &Analysis<'_>, tree: TreeId, text: &CheckedTemplate) -> Vec<QuestionId> {
    let handbook = analysis.handbook();
    let asked = &analysis.explored.doings[tree.index()].asked;
    let uses = text.uses();
    let latest = uses.iter().filter(|used| used.how == How::Latest);
    let under = latest.flat_map(|used| handbook.questions_under(used.symbol)).copied();
    let is_told = |id: &QuestionId| {
        let question = handbook.question(*id);
        asked.contains_key(id) && !question.is_setting() && question.kind != Kind::Text
    };
    under.filter(is_told).collect()
}

/// A look at the text of one step.
struct Look<'a, 'h> {
    analysis: &'a Analysis<'h>,
    tree: TreeId,
    place: usize,
    text: &'a CheckedTemplate,
    /// What some way here may not have asked.
    open: &'a [QuestionId],
    effort: &'a Effort,
}

impl Look<'_, '_> {
    fn fault(&self, raw: &RawStep) -> Option<Diagnostic> {
        let handbook = self.analysis.handbook();
        let (question, with) = self.example(handbook)?;
        let id = &handbook.question(question).id;
        let title =
            format!("step `{}` tells of `{id}`, which may not have been asked", raw.id.value);
        let span = match &raw.work {
            Some(RawWork::Do(text) | RawWork::Stop(text) | RawWork::End(text)) => text.span,
            _ => raw.id.span,
        };
        let fault =
            Diagnostic::at(Code::NotAsked, title, span, format!("`{id}` is not known here"));
        let fault = match with {
            Some(with) => fault.note(format!("for example, {with} one comes here without it")),
            None => fault,
        };
        Some(fault.help("ask it on every way here, or end that way with a text of its own"))
    }

    /// A question of the text that is not known here, and answers that lead here without it.
    fn example(&self, handbook: &Handbook) -> Option<(QuestionId, Option<String>)> {
        let goal = Goal::Step(self.tree, StepId::at(self.place));
        let hunt = Hunt::new(self.analysis, goal, Answering::InTurn, self.effort);
        let mut found = None;
        hunt.each_route(|events| {
            let is_asked = |question: &QuestionId| events.iter().any(|event| event.asks(*question));
            if self.open.iter().all(is_asked) {
                return false;
            }
            let Ok((solution, said)) = hunt.along(events) else { return false };
            let moment = Moment::new(handbook, &solution.past, &said, &self.analysis.chances);
            let unknown = self.text.formulas().find_map(|formula| {
                let Value::Unknown(Unknown::NotAnswered(id)) = evaluate(formula, &moment) else {
                    return None;
                };
                handbook.find_question(&id).filter(|question| self.open.contains(question))
            });
            found = unknown.map(|question| {
                (question, with_answers(handbook, &solution.witness(handbook, &said)))
            });
            found.is_some()
        });
        found
    }
}
