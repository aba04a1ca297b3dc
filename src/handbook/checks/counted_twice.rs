//! Findings off one reading that speak of one cause without their author having said so.
//!
//! The draws keep a shared gauge from counting twice; what findings share beyond that is for their
//! author to weigh, and `same_measurement` says that it has been.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawHandbook;
use crate::formula::Checked;
use crate::handbook::graph::NameGraph;
use crate::handbook::model::{Finding, Formula, Observes, Parts, QuestionId};

pub(super) fn check(
    raw: &RawHandbook,
    parts: &Parts,
    graph: &NameGraph,
    faults: &mut Vec<Diagnostic>,
) {
    let observed: Vec<Vec<QuestionId>> =
        parts.findings.iter().map(|finding| observed(parts, graph, finding)).collect();
    let known = Together::of(parts);
    for (later, finding) in parts.findings.iter().enumerate() {
        let twice = (0..later).find_map(|earlier| {
            let other = &parts.findings[earlier];
            let shared = observed[earlier].iter().find(|q| observed[later].contains(q))?;
            let is_news = !known.are_together(earlier, later) && speak_of_one(finding, other);
            is_news.then_some((other, *shared))
        });
        if let Some((other, question)) = twice {
            let question = &parts.questions[question.index()].id;
            let shared = shared_name(parts, finding, other).unwrap_or(question);
            faults.extend(told(raw, finding, other, shared));
        }
    }
}

fn told(raw: &RawHandbook, finding: &Finding, other: &Finding, shared: &str) -> Option<Diagnostic> {
    let place = |id: &str| raw.findings.iter().find(|raw| raw.id.value == id).map(|r| r.id.span);
    let title = format!("findings `{}` and `{}` rest on one reading", other.id, finding.id);
    let label = format!("looks at `{shared}` too");
    let fault = Diagnostic::at(Code::CountedTwice, title, place(&finding.id)?, label)
        .and_at(place(&other.id)?, format!("looks at `{shared}`"))
        .note("both speak of one cause, and what they share counts twice")
        .help(format!(
            "let one finding say it; or give this one the strengths that it has beside the other, \
             and say with `same_measurement: [{}]` that they are meant together",
            other.id
        ));
    Some(fault)
}

/// The formula that both conditions name, if there is one.
fn shared_name<'p>(parts: &'p Parts, finding: &Finding, other: &Finding) -> Option<&'p str> {
    let (Observes::When(one), Observes::When(two)) = (&finding.observes, &other.observes) else {
        return None;
    };
    let named = |formula: &&Formula| {
        let names =
            |condition: &Checked| condition.uses().iter().any(|u| u.symbol == formula.symbol);
        names(one) && names(two)
    };
    parts.formulas.iter().find(named).map(|formula| formula.id.as_str())
}

/// The observations that a finding's rule can be traced to.
fn observed(parts: &Parts, graph: &NameGraph, finding: &Finding) -> Vec<QuestionId> {
    let questions: Vec<QuestionId> = match &finding.observes {
        Observes::Of(question) => vec![*question],
        Observes::When(condition) => condition
            .uses()
            .iter()
            .flat_map(|used| graph.questions_under(used.symbol).iter().copied())
            .collect(),
    };
    let is_observed = |id: &QuestionId| !parts.questions[id.index()].is_setting();
    questions.into_iter().filter(is_observed).collect()
}

fn speak_of_one(finding: &Finding, other: &Finding) -> bool {
    let causes = |finding: &Finding| {
        let shown = finding.shown_by.iter().map(|(cause, _)| *cause);
        shown.chain(finding.hidden_by.iter().map(|(cause, _)| *cause)).collect::<Vec<_>>()
    };
    let others = causes(other);
    causes(finding).iter().any(|cause| others.contains(cause))
}

/// Which findings their author has thought of together, or that replace one another.
struct Together {
    group: Vec<usize>,
}

impl Together {
    fn of(parts: &Parts) -> Self {
        let mut group: Vec<usize> = (0..parts.findings.len()).collect();
        for (place, finding) in parts.findings.iter().enumerate() {
            for other in finding.same_measurement.iter().chain(&finding.replaces) {
                let (from, to) = (group[place], group[other.index()]);
                group.iter_mut().filter(|of| **of == from).for_each(|of| *of = to);
            }
        }
        Self { group }
    }

    fn are_together(&self, a: usize, b: usize) -> bool {
        self.group[a] == self.group[b]
    }
}
