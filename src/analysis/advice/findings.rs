//! Findings that can't come out as they are meant to.

use crate::analysis::graph::Part;
use crate::analysis::reach::Analysis;
use crate::analysis::region::Region;
use crate::analysis::truths::Truths;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::{RawFinding, RawHandbook, RawTest};
use crate::handbook::Observes;

pub(super) fn advise(written: &RawHandbook, analysis: &Analysis<'_>, advice: &mut Vec<Diagnostic>) {
    for raw in &written.findings {
        advice.extend(of_finding(raw, analysis));
    }
}

fn of_finding(raw: &RawFinding, analysis: &Analysis<'_>) -> Option<Diagnostic> {
    let handbook = analysis.handbook();
    let id = handbook.find_finding(&raw.id.value)?;
    let Observes::When(_) = handbook.finding(id).observes else { return None };
    let conditions = &analysis.explored.conditions;
    let part = analysis.explored.findings[id.index()];
    let anything = Region::default();
    let may_come = |part, truth| !conditions.narrowed(&anything, part, truth).is_empty();
    if let Part::Finding { applies: Some(applies), .. } = conditions.graph.node(part).part
        && !may_come(applies, Truths::YES)
    {
        let title = format!("finding `{}` can never apply", raw.id.value);
        let span = raw.only_if.as_ref().map_or(raw.id.span, |only_if| only_if.span);
        let fault = Diagnostic::at(Code::NeverTrue, title, span, "never yes, whatever is answered");
        return Some(fault.note("a finding that never applies is no evidence for anything"));
    }
    let is_possible =
        may_come(part, Truths::YES) || !conditions.too_close(&anything, part).is_empty();
    if is_possible {
        return None;
    }
    let title = format!("finding `{}` can never come true", raw.id.value);
    let span = match &raw.test {
        Some(RawTest::When(text)) => text.span,
        _ => raw.id.span,
    };
    let fault = Diagnostic::at(Code::NeverTrue, title, span, "never yes, whatever is answered");
    Some(fault.note("it can only ever speak against the causes that it names"))
}
