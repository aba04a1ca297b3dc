//! The verdict as one JSON object, format 1, with full precision.

mod insight;

use super::judgement::behind;
use super::undone::open_repairs;
use serde_json::{Value as Json, json};

use crate::case::{Case, CautionView, Closes, Ending};
use crate::evidence::wording;
use crate::evidence::{FindingState, Proof, Reason};

/// Below this a cause's reasons are left out (`estimate`).
const WORTH_EXPLAINING: f64 = 0.01;

/// Weights up to this many nats are left over from rounding (`computed`: ten thousand times the
/// largest seen, far below any weight that an author's numbers make).
pub(super) const ROUNDING: f64 = 1e-10;

/// The verdict on a case, and how its interview ended.
///
/// A finding's `state` is `true`, `false`, `"too_close"`, `"not_applicable"`, `"unknown"` or, for
/// a choice that was seen, the choice's id. `probability` is the share of the draws that say yes.
#[must_use]
pub fn verdict_json(case: &Case<'_>, ending: &Ending) -> Json {
    let assessment = case.assessment();
    let insight = case.insight();
    let behind = behind(case);
    json!({
        "format": 1,
        "tree": case.tree_view(case.tree()).0,
        "handbook": case.handbook().hash(),
        "ranking": ranking(case),
        "nothing_wrong": assessment.nothing_wrong,
        "was": was(case),
        "not_weighed": assessment
            .forgotten
            .iter()
            .map(|id| case.cause_view(*id).id)
            .collect::<Vec<_>>(),
        "numbers_behind": { "judged": behind.judged, "all": behind.all },
        "settled": case.is_settled(),
        "closes": case.closes().map(Closes::word),
        "contradicts_itself": assessment.contradicts_itself,
        "findings": findings(case),
        "formulas": formulas(case),
        "reasons": reasons(case),
        "history": insight::history(case, &insight),
        "next": insight::next(case, &insight),
        "same_decision": insight.same_decision,
        "flips": insight::flips(case, &insight),
        "rests_on": insight::rests_on(case, &insight),
        "holds_while": insight::holds_while(case, &insight),
        "repairs": insight::repairs(case, &insight),
        "referred": insight::referred(case, &insight),
        "not_done_yet": open_repairs(case)
            .into_iter()
            .map(|id| case.action_view(id).id)
            .collect::<Vec<_>>(),
        "cautions": case.cautions_met().iter().map(caution_json).collect::<Vec<_>>(),
        "stopped": stopped(case, ending),
    })
}

fn ranking(case: &Case<'_>) -> Vec<Json> {
    let ranking = &case.assessment().ranking;
    ranking
        .iter()
        .map(|ranked| {
            let view = case.cause_view(ranked.cause);
            json!({
                "cause": view.id,
                "name": view.name,
                "group": view.group,
                "probability": ranked.probability,
            })
        })
        .collect()
}

/// What was there before a repair.
fn was(case: &Case<'_>) -> Vec<Json> {
    let was = case.assessment().repaired();
    was.map(|(ranked, proof)| {
        json!({
            "cause": case.cause_view(ranked.cause).id,
            "probability": ranked.probability,
            "since": match proof {
                Proof::NotRead => "not_read",
                Proof::StillShows => "still_shows",
                Proof::Passed => "passed",
            },
        })
    })
    .collect()
}

fn findings(case: &Case<'_>) -> Vec<Json> {
    case.finding_ids()
        .map(|id| {
            let judged = case.assessment().finding(id);
            let (state, probability) = match &judged.state {
                FindingState::True(p) => (json!(true), json!(p)),
                FindingState::False(p) => (json!(false), json!(p)),
                FindingState::TooClose(p) => (json!("too_close"), json!(p)),
                FindingState::Seen(choice) => (json!(case.choice_id(id, *choice)), json!(1.0)),
                FindingState::NotApplicable => (json!("not_applicable"), Json::Null),
                FindingState::Unknown => (json!("unknown"), Json::Null),
            };
            json!({
                "id": case.finding_name(id),
                "state": state,
                "probability": probability,
                "text": case.finding_says(id).text.to_text(),
            })
        })
        .collect()
}

fn formulas(case: &Case<'_>) -> Vec<Json> {
    case.formula_values()
        .into_iter()
        .map(|formula| {
            json!({
                "id": formula.id,
                "value": formula.value,
                "low": formula.low,
                "high": formula.high,
                "unit": formula.unit,
                "unknown": formula.unknown,
            })
        })
        .collect()
}

fn reasons(case: &Case<'_>) -> Vec<Json> {
    let assessment = case.assessment();
    assessment
        .ranking
        .iter()
        .filter(|ranked| ranked.probability >= WORTH_EXPLAINING)
        .flat_map(|ranked| {
            let cause = case.cause_view(ranked.cause).id;
            let reasons = &case.reasons().for_causes[ranked.cause.index()];
            reasons.iter().filter(says_something).map(move |r| reason_json(case, &cause, r))
        })
        .chain(
            case.reasons()
                .for_nothing
                .iter()
                .filter(says_something)
                .map(|reason| reason_json(case, "nothing_wrong", reason)),
        )
        .collect()
}

fn says_something(reason: &&Reason) -> bool {
    reason.weight.nats().abs() > ROUNDING
}

fn reason_json(case: &Case<'_>, cause: &str, reason: &Reason) -> Json {
    let witnesses = &case.assessment().witnesses;
    let behind = || reason.witnesses.iter().map(|&place| &witnesses[place]);
    let findings: Vec<&str> = behind().map(|w| case.finding_name(w.finding)).collect();
    let texts: Vec<String> = behind().map(|w| case.says(w).text.to_text()).collect();
    json!({
        "cause": cause,
        "findings": findings,
        "before_repair": behind().any(|witness| witness.is_past()),
        "texts": texts,
        "nats": reason.weight.nats(),
        "strength": wording::reason(reason.weight),
    })
}

/// A caution, with how grave it is.
#[must_use]
pub fn caution_json(view: &CautionView) -> Json {
    json!({
        "id": view.id,
        "severity": view.severity.word(),
        "text": view.text.to_text(),
        "refer": view.refer.as_ref().map(|refer| refer.to_text()),
    })
}

/// Which caution or step stopped the work, and whom it refers to.
fn stopped(case: &Case<'_>, ending: &Ending) -> Json {
    match ending {
        Ending::Stopped(Some(id)) => {
            let view = case.caution_view(*id);
            json!({ "caution": view.id, "refer": view.refer.map(|refer| refer.to_text()) })
        }
        Ending::Stopped(None) => match case.now() {
            crate::case::Now::Stopped { text, refer, .. } => {
                json!({ "caution": text.to_text(), "refer": refer.to_text() })
            }
            _ => Json::Null,
        },
        _ => Json::Null,
    }
}
