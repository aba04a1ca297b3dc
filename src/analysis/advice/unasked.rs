//! Texts of steps that tell what may not have been asked on the way there.

use std::collections::{BTreeMap, BTreeSet};

use super::way_without::{Needed, WayWithout};
use super::{step, trees};
use crate::analysis::effort::Effort;
use crate::analysis::history::{History, Standings};
use crate::analysis::reach::Analysis;
use crate::analysis::witness::Goal;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{RawHandbook, RawStep, RawWork};
use crate::formula::{CheckedTemplate, How, Kind};
use crate::handbook::{LookBack, QuestionId, Step, StepId, StepKind, TreeId};

/// How many conditions are evaluated for one step, and for all of a handbook (limits of ours).
const EVALUATIONS_A_STEP: u32 = 200;
const EVALUATIONS: u32 = 4000;

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    let all = Effort::of(EVALUATIONS);
    for (id, raw) in trees(written, analysis.handbook()) {
        let (handbook, tree) = (analysis.handbook(), analysis.handbook().tree(id));
        let mut histories: BTreeMap<QuestionId, Vec<Standings>> = BTreeMap::new();
        for (place, at) in tree.steps.iter().enumerate() {
            let Some(text) = text(at) else { continue };
            let mut open = told(analysis, id, text);
            open.retain(|told| {
                let before = histories
                    .entry(told.question)
                    .or_insert_with(|| History::new(handbook, told.question).before(id));
                if told.is_earlier {
                    before[place].may_lack_an_earlier()
                } else {
                    before[place].may_be_unasked()
                }
            });
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

/// The answers that a text tells of, of questions that its tree may ask. What a tree never asks is
/// known from before it; what nobody knows of a setting is assumed, and said so.
fn told(analysis: &Analysis<'_>, tree: TreeId, text: &CheckedTemplate) -> Vec<Needed> {
    let handbook = analysis.handbook();
    let asked = &analysis.explored.doings[tree.index()].asked;
    let uses = text.uses();
    let latest = uses.iter().filter(|used| used.how == How::Latest);
    let latest = latest.flat_map(|used| handbook.questions_under(used.symbol)).copied();
    let mut told: BTreeSet<Needed> =
        latest.map(|question| Needed { question, is_earlier: false }).collect();
    for formula in text.formulas() {
        let again = LookBack::of_formula(handbook, formula).again;
        told.extend(again.into_iter().map(|question| Needed { question, is_earlier: true }));
    }
    let is_told = |told: &Needed| {
        let question = handbook.question(told.question);
        asked.contains_key(&told.question) && !question.is_setting() && question.kind != Kind::Text
    };
    told.into_iter().filter(is_told).collect()
}

/// A look at the text of one step.
struct Look<'a, 'h> {
    analysis: &'a Analysis<'h>,
    tree: TreeId,
    place: usize,
    text: &'a CheckedTemplate,
    /// What some way here may not have asked.
    open: &'a [Needed],
    effort: &'a Effort,
}

impl Look<'_, '_> {
    fn fault(&self, raw: &RawStep) -> Option<Diagnostic> {
        let handbook = self.analysis.handbook();
        let way = WayWithout {
            analysis: self.analysis,
            goal: Goal::Step(self.tree, StepId::at(self.place)),
            formulas: self.text.formulas().collect(),
            known: Vec::new(),
            open: self.open,
            effort: self.effort,
        };
        let (told, with) = way.find()?;
        let (id, step) = (&handbook.question(told.question).id, &raw.id.value);
        let (title, label, help) = if told.is_earlier {
            (
                format!("step `{step}` looks back at `{id}`, which may have been asked only once"),
                format!("there is no answer to `{id}` before the latest here"),
                "let a way on which it is asked once end with a text of its own",
            )
        } else {
            (
                format!("step `{step}` tells of `{id}`, which may not have been asked"),
                format!("`{id}` is not known here"),
                "ask it on every way here, or end that way with a text of its own",
            )
        };
        let span = match &raw.work {
            Some(RawWork::Do(text) | RawWork::Stop(text) | RawWork::End(text)) => text.span,
            _ => raw.id.span,
        };
        let fault = Diagnostic::at(Code::NotAsked, title, span, label);
        let fault = match with {
            Some(with) => fault.note(format!("for example, {with} one comes here without it")),
            None => fault,
        };
        Some(fault.help(help))
    }
}
