//! Numbers without a unit beside something that is shown in %.
//!
//! To a formula a ratio is a number, and 1 of it is 100 %. Whoever writes `share < 50` beside a
//! share that is shown in % nearly always means 50 %.

use std::collections::BTreeSet;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::{RawHandbook, RawNext, RawTest};
use crate::formula::{Bare, Syntax, parse};

pub(super) fn check(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    let shown = shown_in_percent(raw);
    if shown.is_empty() {
        return;
    }
    for formula in &raw.formulas {
        let Some(syntax) = formula.is.as_ref().and_then(read) else { continue };
        if let (true, Some(bare)) = (shown.contains(formula.id.as_str()), syntax.bare_number()) {
            let what = format!("`{}` is shown in %, and is", formula.id.value);
            faults.extend(forgotten(&what, &bare));
        }
    }
    for syntax in formulas(raw).into_iter().filter_map(read) {
        for (name, bare) in syntax.bare_limits() {
            if shown.contains(name.as_str()) {
                let what = format!("`{name}` is shown in %, and is compared with");
                faults.extend(forgotten(&what, &bare));
            }
        }
    }
}

/// The names of questions and formulas that are shown in %.
fn shown_in_percent(raw: &RawHandbook) -> BTreeSet<&str> {
    let is_percent = |unit: &Option<Scalar>| unit.as_ref().is_some_and(|u| u.text.trim() == "%");
    let questions = raw.questions.iter().filter(|question| is_percent(&question.unit));
    let formulas = raw.formulas.iter().filter(|formula| is_percent(&formula.shown_as));
    questions.map(|q| q.id.as_str()).chain(formulas.map(|f| f.id.as_str())).collect()
}

/// Every formula of a handbook.
fn formulas(raw: &RawHandbook) -> Vec<&Scalar> {
    let computed = raw.formulas.iter().filter_map(|formula| formula.is.as_ref());
    let tests = raw.findings.iter().filter_map(|finding| match &finding.test {
        Some(RawTest::When(text)) => Some(text),
        _ => None,
    });
    let bounds = raw.findings.iter().filter_map(|finding| finding.only_if.as_ref());
    let steps = raw.trees.iter().flat_map(|tree| &tree.steps);
    let conditions = steps.flat_map(|step| match &step.next {
        Some(RawNext::ByFormula(all)) => {
            all.branches.iter().filter_map(|branch| branch.condition.as_ref()).collect()
        }
        _ => Vec::new(),
    });
    computed.chain(tests).chain(bounds).chain(conditions).collect()
}

fn read(text: &Scalar) -> Option<Syntax> {
    parse(&text.text, &|range| text.span_of(range)).ok()
}

fn forgotten(what: &str, bare: &Bare) -> Option<Diagnostic> {
    if bare.number <= 1.0 {
        return None;
    }
    let (number, taken) = (bare.number, bare.number * 100.0);
    let title = format!("{what} {number}, without a unit");
    let label = format!("counts as {taken} %");
    Some(
        Diagnostic::at(Code::PercentForgotten, title, bare.span, label)
            .note("without a unit, 1 is the whole: 100 %")
            .help(format!("write `{number} %`; if it is meant as it stands, write `{taken} %`")),
    )
}
