//! Findings off one reading that speak of one cause without their author having said so.
//!
//! The draws keep a shared gauge from counting twice; what findings share beyond that is for their
//! author to weigh, and `same_measurement` says that it has been.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawHandbook;
use crate::formula::Checked;
use crate::handbook::graph::NameGraph;
use crate::handbook::model::{
    Cause, CauseId, Finding, FindingId, Formula, Observes, Parts, QuestionId,
};

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
            faults.extend(told(raw, &parts.causes, finding, other, shared));
        }
    }
}

fn told(
    raw: &RawHandbook,
    causes: &[Cause],
    finding: &Finding,
    other: &Finding,
    shared: &str,
) -> Option<Diagnostic> {
    let place = |id: &str| raw.findings.iter().find(|raw| raw.id.value == id).map(|r| r.id.span);
    let title = format!("findings `{}` and `{}` rest on one reading", other.id, finding.id);
    let label = format!("looks at `{shared}` too");
    let fault = Diagnostic::at(Code::CountedTwice, title, place(&finding.id)?, label)
        .and_at(place(&other.id)?, format!("looks at `{shared}`"))
        .note(counted(causes, finding, other))
        .help(mend(finding, other));
    Some(fault)
}

/// How both count, with the numbers where both are a yes or no that a cause shows.
fn counted(causes: &[Cause], finding: &Finding, other: &Finding) -> String {
    let factor = |of: &Finding, cause: CauseId| {
        let (_, shares) = of.shown_by.iter().find(|(shown, _)| *shown == cause)?;
        match (shares.as_slice(), of.background.as_slice()) {
            ([_, with], [_, without]) => Some(with / without),
            _ => None,
        }
    };
    let both = finding
        .shown_by
        .iter()
        .find_map(|(cause, _)| Some((*cause, factor(other, *cause)?, factor(finding, *cause)?)));
    let Some((cause, first, second)) = both else {
        return "each counts in full for the cause that both speak of, as if they came from two \
                readings"
            .to_owned();
    };
    format!(
        "each counts in full, as if they came from two readings: where both are true, cause `{}` \
         becomes {} times as likely by `{}` and {} times by `{}`, so {} times together, set \
         against nothing wrong",
        causes[cause.index()].id,
        rounded(first),
        other.id,
        rounded(second),
        finding.id,
        rounded(first * second),
    )
}

/// Two digits, which is more than these numbers deserve.
fn rounded(factor: f64) -> String {
    let told = if factor < 10.0 { format!("{factor:.1}") } else { format!("{factor:.0}") };
    told.strip_suffix(".0").map_or(told.clone(), str::to_owned)
}

/// What makes them count rightly; `same_measurement` changes no number.
fn mend(finding: &Finding, other: &Finding) -> String {
    let way = match other.observes {
        Observes::When(_) => {
            let how = match finding.only_if {
                Some(_) => format!("add `and {}` to the `only_if` of `{}`", other.id, finding.id),
                None => format!("write `only_if: {}` at `{}`", other.id, finding.id),
            };
            format!(
                "{how} and give it the shares that it has where `{}` is true, so that it tells \
                 only what the other has not; or",
                other.id
            )
        }
        Observes::Of(_) => "give this one the shares that it has beside the other; or".to_owned(),
    };
    format!(
        "take one of them out; or {way}, where the shares are what each tells beside the other \
         already, say so with `same_measurement: [{}]`, which changes no number",
        other.id
    )
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

/// The findings in a finding's `only_if`: its shares are those beside them.
fn conditions_of(parts: &Parts, finding: &Finding) -> Vec<FindingId> {
    let Some(condition) = &finding.only_if else { return Vec::new() };
    let is_named = |other: &Finding| condition.uses().iter().any(|u| u.symbol == other.symbol);
    let findings = parts.findings.iter().enumerate();
    findings.filter(|(_, other)| is_named(other)).map(|(at, _)| FindingId::at(at)).collect()
}

/// Which findings their author has thought of together, or that replace one another.
struct Together {
    group: Vec<usize>,
}

impl Together {
    fn of(parts: &Parts) -> Self {
        let mut group: Vec<usize> = (0..parts.findings.len()).collect();
        for (place, finding) in parts.findings.iter().enumerate() {
            let conditions = conditions_of(parts, finding);
            for other in finding.same_measurement.iter().chain(&finding.replaces).chain(&conditions)
            {
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
