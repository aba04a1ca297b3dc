//! Questions that are asked though nothing depends on their answer.

use std::collections::BTreeSet;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawHandbook;
use crate::formula::{Checked, CheckedTemplate, Symbol};
use crate::handbook::{Entry, Finding, Handbook, Next, Observes, Question, Step, StepKind};

pub(super) fn advise(written: &RawHandbook, handbook: &Handbook, advice: &mut Vec<Diagnostic>) {
    let used = used(handbook);
    let steps = || handbook.trees().iter().flat_map(|tree| &tree.steps);
    let asked: BTreeSet<Symbol> = steps()
        .filter_map(|step| match step.kind {
            StepKind::Ask { question, .. } => Some(handbook.question(question).symbol),
            _ => None,
        })
        .collect();
    for raw in &written.questions {
        let Some(id) = handbook.find_question(&raw.id.value) else { continue };
        let question = handbook.question(id);
        let symbol = question.symbol;
        // A question of safety is asked for the record, and to show its cautions.
        let is_of_safety = question.hazard.is_some() || !question.cautions.is_empty();
        if asked.contains(&symbol) && !used.contains(&symbol) && !is_of_safety {
            let title = format!("nothing depends on the answer to `{}`", raw.id.value);
            let label = "asked, but its answer changes nothing";
            let fault = Diagnostic::at(Code::NothingDepends, title, raw.id.span, label);
            advice.push(fault.note(
                "no condition, finding, cause, instrument or text looks at it, and every answer \
                 leads to the same step",
            ));
        }
    }
}

/// Every name that something in the end depends on.
fn used(handbook: &Handbook) -> BTreeSet<Symbol> {
    let mut open: Vec<Symbol> = Vec::new();
    for tree in handbook.trees() {
        open.extend(tree.rounds.map(|question| handbook.question(question).symbol));
        tree.steps.iter().for_each(|step| of_step(handbook, step, &mut open));
    }
    handbook.questions().iter().for_each(|question| of_question(question, &mut open));
    handbook.findings().iter().for_each(|finding| of_finding(handbook, finding, &mut open));
    for instrument in handbook.instruments() {
        let parts = [&instrument.scale, &instrument.offset, &instrument.resolution];
        parts.into_iter().flatten().for_each(|formula| of_formula(formula, &mut open));
        // Bare numbers are read in the unit of a face.
        open.extend(instrument.face.map(|face| handbook.question(face).symbol));
    }
    for cause in handbook.causes() {
        open.extend(cause.history.iter().map(|history| history.when));
        of_text(&cause.because, &mut open);
    }
    for action in handbook.actions() {
        of_text(&action.instruction, &mut open);
        action
            .done_if
            .iter()
            .chain(&action.not_if)
            .for_each(|condition| of_formula(condition, &mut open));
    }
    for caution in handbook.cautions() {
        caution.only_if.iter().for_each(|condition| of_formula(condition, &mut open));
        of_text(&caution.text, &mut open);
        caution.refer.iter().for_each(|text| of_text(text, &mut open));
    }
    let mut used = BTreeSet::new();
    while let Some(symbol) = open.pop() {
        if used.insert(symbol)
            && let Entry::Formula(id) = handbook.entry(symbol)
        {
            of_formula(&handbook.formula(id).is, &mut open);
        }
    }
    used
}

fn of_step(handbook: &Handbook, step: &Step, open: &mut Vec<Symbol>) {
    match &step.kind {
        StepKind::Do { text, .. } => of_text(text, open),
        StepKind::Stop { text, why, refer, .. } => {
            [Some(text), why.as_ref(), Some(refer)]
                .into_iter()
                .flatten()
                .for_each(|t| of_text(t, open));
        }
        StepKind::End { done, .. } => of_text(done, open),
        StepKind::Ask { question, .. } => {
            let targets = step.next.targets();
            if targets.iter().any(|target| *target != targets[0])
                && matches!(step.next, Next::ByAnswer { .. })
            {
                open.push(handbook.question(*question).symbol);
            }
        }
        StepKind::Act { .. } | StepKind::Visit(_) => {}
    }
    if let Next::ByRules { rules, .. } = &step.next {
        rules.iter().for_each(|rule| of_formula(&rule.condition, open));
    }
}

fn of_question(question: &Question, open: &mut Vec<Symbol>) {
    let say = [question.say.as_ref(), question.listen.as_ref(), question.why.as_ref()];
    let texts = [Some(&question.ask)].into_iter().chain(say);
    texts.flatten().for_each(|text| of_text(text, open));
}

fn of_finding(handbook: &Handbook, finding: &Finding, open: &mut Vec<Symbol>) {
    match &finding.observes {
        Observes::When(condition) => of_formula(condition, open),
        Observes::Of(question) => open.push(handbook.question(*question).symbol),
    }
    finding.only_if.iter().for_each(|condition| of_formula(condition, open));
    [&finding.so, &finding.so_not, &finding.refer]
        .into_iter()
        .flatten()
        .for_each(|text| of_text(text, open));
}

fn of_formula(formula: &Checked, open: &mut Vec<Symbol>) {
    open.extend(formula.uses().iter().map(|used| used.symbol));
}

fn of_text(text: &CheckedTemplate, open: &mut Vec<Symbol>) {
    open.extend(text.uses().iter().map(|used| used.symbol));
}
