//! What stands behind a verdict as JSON.

use serde_json::{Value as Json, json};

use crate::case::{Case, FindingId, QuestionId};
use crate::evidence::{Decided, Insight};
use crate::handbook::Observes;

/// The most tests that are listed (limit of ours).
const MOST_TESTS: usize = 5;

/// The test's name is its tree, or the finding that it settles. None beside a stop, nor before a
/// plan is done.
pub(super) fn next(case: &Case<'_>, insight: &Insight) -> Vec<Json> {
    if case.is_held_back() || case.unfinished_plan().is_some() {
        return Vec::new();
    }
    let tests = insight.tests.iter().take(MOST_TESTS);
    tests
        .map(|test| {
            let findings: Vec<&str> =
                test.findings.iter().map(|id| case.finding_name(*id)).collect();
            let tree = test.tree.map(|tree| case.tree_view(tree).0);
            let ids = |questions: &[QuestionId]| -> Vec<String> {
                questions.iter().map(|&id| case.question_view(id).id).collect()
            };
            json!({
                "test": tree.or(findings.first().copied()),
                "minutes": test.minutes,
                "bits": test.bits,
                "settles": test.settles,
                "decides": test.decides,
                "questions": ids(&test.questions),
                "safety": ids(&test.safety),
                "findings": findings,
            })
        })
        .collect()
}

/// Outcomes of open findings under which something else would lead.
pub(super) fn flips(case: &Case<'_>, insight: &Insight) -> Vec<Json> {
    let changes = insight.changes.iter();
    changes
        .map(|change| {
            let outcome = |(finding, outcome): &(FindingId, usize)| {
                json!({ "finding": case.finding_name(*finding), "outcome": outcome_of(case, *finding, *outcome) })
            };
            json!({
                "if": change.outcomes.iter().map(outcome).collect::<Vec<_>>(),
                "probability": change.probability,
                "leads": decided(case, &change.to),
            })
        })
        .collect()
}

fn outcome_of(case: &Case<'_>, finding: FindingId, outcome: usize) -> Json {
    match &case.handbook().finding(finding).observes {
        Observes::When(_) => json!(outcome == 1),
        Observes::Of(_) => json!(case.choice_id(finding, u16::try_from(outcome).unwrap_or(0))),
    }
}

/// Evidence without which something else would lead.
pub(super) fn rests_on(case: &Case<'_>, insight: &Insight) -> Vec<Json> {
    let witnesses = &case.assessment().witnesses;
    let rests = insight.rests_on.iter();
    rests
        .map(|rest| {
            let names: Vec<&str> = rest
                .witnesses
                .iter()
                .map(|&place| case.finding_name(witnesses[place].finding))
                .collect();
            json!({ "findings": names, "leads": decided(case, &rest.to) })
        })
        .collect()
}

/// How far numbers of the handbook may be off.
pub(super) fn holds_while(case: &Case<'_>, insight: &Insight) -> Vec<Json> {
    let holds = insight.holds_while.iter();
    holds
        .map(|holds| {
            json!({
                "cause": case.cause_view(holds.cause).id,
                "finding": holds.finding.map(|finding| case.finding_name(finding)),
                "outcome": holds.finding.zip(holds.outcome).map(|(finding, outcome)| {
                    outcome_of(case, finding, outcome)
                }),
                "stated": holds.stated,
                "changes_at": holds.at,
                "leads": decided(case, &holds.to),
            })
        })
        .collect()
}

/// Repairs in the order to try.
pub(super) fn repairs(case: &Case<'_>, insight: &Insight) -> Vec<Json> {
    let steps = insight.repairs.steps.iter();
    steps
        .map(|step| {
            let first: Vec<String> = step.first.iter().map(|id| case.action_view(*id).id).collect();
            json!({
                "action": case.action_view(step.action).id,
                "first": first,
                "minutes": step.minutes,
                "mends": step.mends,
                "restored": step.restored,
            })
        })
        .collect()
}

/// Whom to leave repairs to: the repair that a licensed person would make next, and the findings
/// for which one is called at once.
pub(super) fn referred(case: &Case<'_>, insight: &Insight) -> Json {
    let repairs = &insight.repairs;
    let findings: Vec<&str> = repairs.refer_now.iter().map(|id| case.finding_name(*id)).collect();
    json!({
        "action": repairs.referred.map(|id| case.action_view(id).id),
        "findings": findings,
    })
}

/// What the past multiplied the odds of causes by.
pub(super) fn history(case: &Case<'_>, insight: &Insight) -> Vec<Json> {
    let past = insight.past.iter();
    past.map(|past| {
        let name = case.handbook().symbol_name(past.when);
        json!({ "cause": case.cause_view(past.cause).id, "when": name, "factor": past.factor })
    })
    .collect()
}

fn decided(case: &Case<'_>, to: &Decided) -> Vec<String> {
    match to {
        Decided::NothingWrong => vec!["nothing_wrong".to_owned()],
        Decided::Causes(causes) => causes.iter().map(|id| case.cause_view(*id).id).collect(),
    }
}
