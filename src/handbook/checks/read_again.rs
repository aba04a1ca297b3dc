//! Findings of readings that can't all be: they look at those readings, and at no other finding.

use std::collections::BTreeSet;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawHandbook;
use crate::formula::{Checked, Symbol};
use crate::handbook::graph::NameGraph;
use crate::handbook::model::{Entry, Finding, Observes, Parts};

pub(super) fn check(
    raw: &RawHandbook,
    parts: &Parts,
    graph: &NameGraph,
    faults: &mut Vec<Diagnostic>,
) {
    for finding in &parts.findings {
        let Some(written) = raw.findings.iter().find(|raw| raw.id.value == finding.id) else {
            continue;
        };
        let Some(first) = written.read_again.first() else { continue };
        if let Some(other) = rests_on(parts, finding) {
            let title = format!(
                "finding `{}` wants readings read again and rests on finding `{other}`",
                finding.id
            );
            let label = format!("`{other}` says nothing while these are in doubt");
            faults.push(
                Diagnostic::at(Code::DisputesItself, title, first.span, label)
                    .help(format!("write what `{other}` tests in its place")),
            );
        }
        for name in &written.read_again {
            if is_beside(&name.value, finding, parts, graph) {
                let title = format!(
                    "finding `{}` wants `{}` read again and doesn't look at it",
                    finding.id, name.value
                );
                let label = "nothing under `when`, `of` or `only_if` uses it";
                faults.push(
                    Diagnostic::at(Code::ReadAgainUnread, title, name.span, label)
                        .note("read again is what can't all be where the finding is true")
                        .help("name a question that its formulas use, or take it out"),
                );
            }
        }
    }
}

/// Whether a name is that of a question, and the finding rests on others. What is no question is
/// told where names are looked up.
fn is_beside(name: &str, finding: &Finding, parts: &Parts, graph: &NameGraph) -> bool {
    let under = graph.questions_under(finding.symbol);
    let is_it = |id: &str| id == name;
    parts.questions.iter().any(|question| is_it(&question.id))
        && !under.iter().any(|question| is_it(&parts.questions[question.index()].id))
}

/// The first finding that a finding's formulas rest on, if any.
fn rests_on<'p>(parts: &'p Parts, finding: &Finding) -> Option<&'p str> {
    let used = |checked: &Checked| checked.uses().iter().map(|used| used.symbol).collect();
    let mut open: Vec<Symbol> = finding.only_if.as_ref().map(used).unwrap_or_default();
    if let Observes::When(condition) = &finding.observes {
        open.extend(condition.uses().iter().map(|used| used.symbol));
    }
    let mut seen = BTreeSet::new();
    while let Some(symbol) = open.pop() {
        match parts.entries.get(symbol.0 as usize) {
            Some(Entry::Finding(other)) => return Some(&parts.findings[other.index()].id),
            Some(Entry::Formula(id)) if seen.insert(symbol) => {
                let uses = parts.formulas[id.index()].is.uses();
                open.extend(uses.iter().map(|used| used.symbol));
            }
            _ => {}
        }
    }
    None
}
