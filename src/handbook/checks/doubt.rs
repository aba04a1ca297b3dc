//! Branches by condition that don't say where doubt leads.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawHandbook;
use crate::formula::Kind;
use crate::handbook::graph::NameGraph;
use crate::handbook::model::{Next, Parts, Rule, Step};
use crate::source::Span;

pub(super) fn check(
    raw: &RawHandbook,
    parts: &Parts,
    graph: &NameGraph,
    faults: &mut Vec<Diagnostic>,
) {
    for tree in &parts.trees {
        let Some(raw) = raw.trees.iter().find(|raw| raw.id.value == tree.id) else {
            continue;
        };
        for (step, raw) in tree.steps.iter().zip(&raw.steps) {
            check_step(parts, graph, step, raw.id.span, faults);
        }
    }
}

fn check_step(
    parts: &Parts,
    graph: &NameGraph,
    step: &Step,
    place: Span,
    faults: &mut Vec<Diagnostic>,
) {
    let Next::ByRules { rules, too_close, unknown, .. } = &step.next else { return };
    let can_be_close = rules.iter().any(|rule| measures_something(parts, graph, rule));
    let (close, unheard) = ("`- too_close: STEP`", "`- unknown: STEP`");
    let (missing, rows) = match (too_close.is_none() && can_be_close, unknown.is_none()) {
        (false, false) => return,
        (true, true) => ("`too_close` or `unknown`", format!("{close} and {unheard}")),
        (true, false) => ("`too_close`", close.to_owned()),
        (false, true) => ("`unknown`", unheard.to_owned()),
    };
    let title = format!("step `{}` doesn't say where doubt leads", step.id);
    faults.push(
        Diagnostic::at(Code::DoubtUnsaid, title, place, format!("no {missing} here"))
            .note("a condition that is too close to call, or not known, goes to `else`")
            .help(format!("add {rows} above `- else:`; the step may be that of `else`")),
    );
}

/// Whether a condition can be traced to a quantity: only then can it be too close to call.
fn measures_something(parts: &Parts, graph: &NameGraph, rule: &Rule) -> bool {
    rule.condition.uses().iter().any(|used| {
        graph
            .questions_under(used.symbol)
            .iter()
            .any(|question| matches!(parts.questions[question.index()].kind, Kind::Quantity(_)))
    })
}
