//! A case held against what its scenario expects.

use super::because::{reasons, turns};
use super::expectation::Stop;
use super::last_step;
use super::outcome::{About, Miss, Outcome};
use super::scenario::{NOTHING_WRONG, Scenario};
use crate::case::{Case, Ending, Now, Reply};
use crate::evidence::wording::{Band, Likelihood, in_words, word};
use crate::evidence::{Engine, FindingState};
use crate::handbook::{CauseId, FindingId, QuestionId};

/// How many of the best next checks a scenario speaks of.
const BEST_CHECKS: usize = 3;

/// Everything that is not as expected, the gravest kind first.
pub(super) fn judge(
    scenario: &Scenario,
    case: &Case<'_>,
    engine: &Engine,
    ending: &Ending,
    remarks: &[String],
) -> Vec<Miss> {
    let mut misses = Vec::new();
    if matches!(ending, Ending::Unusable(_)) {
        let text = format!("an answer was not taken: {}", remarks.join("; "));
        misses.push(miss(Outcome::Otherwise, About::Answers, "taken", "not taken", text));
    }
    if scenario.expects_nothing {
        return misses;
    }
    stopping(scenario, case, ending, &mut misses);
    misses.extend(last_step::miss(scenario, case));
    ranking(scenario, case, engine, &mut misses);
    settling(scenario, case, &mut misses);
    findings(scenario, case, &mut misses);
    next(scenario, case, &mut misses);
    misses
}

pub(super) fn miss(
    outcome: Outcome,
    about: About,
    expected: impl Into<String>,
    found: impl Into<String>,
    text: String,
) -> Miss {
    let (expected, found) = (expected.into(), found.into());
    Miss { outcome, about, expected, found, probability: None, text, because: Vec::new() }
}

fn ranking(scenario: &Scenario, case: &Case<'_>, engine: &Engine, misses: &mut Vec<Miss>) {
    let is_missed =
        |(cause, band): &&(Option<CauseId>, Band)| !band.holds(probability(case, *cause));
    let missed: Vec<(Option<CauseId>, Band)> =
        scenario.expect.ranking.iter().filter(is_missed).copied().collect();
    let turns = turns(case, engine, &missed);
    for ((cause, band), turn) in missed.into_iter().zip(turns) {
        let p = probability(case, cause);
        let name = cause_name(case, cause);
        let is_too_low = word(p) < band.least;
        let outcome = if is_too_low { Outcome::Missed } else { Outcome::FalseAlarm };
        let text = format!("`{name}` should be {band}, and is {} ({p:.3})", in_words(p));
        let about = About::Ranking(name);
        let because = reasons(case, cause).into_iter().chain(turn).collect();
        let found = miss(outcome, about, band.to_string(), word(p).to_string(), text);
        misses.push(Miss { probability: Some(p), because, ..found });
    }
}

/// How probable a cause is, or that nothing is wrong.
pub(super) fn probability(case: &Case<'_>, cause: Option<CauseId>) -> f64 {
    let assessment = case.assessment();
    cause.map_or(assessment.nothing_wrong, |cause| assessment.probability(cause))
}

fn cause_name(case: &Case<'_>, cause: Option<CauseId>) -> String {
    cause.map_or(NOTHING_WRONG.to_owned(), |cause| case.handbook().cause(cause).id.clone())
}

/// What leads: a cause, or nothing being wrong.
fn leader(case: &Case<'_>) -> Option<CauseId> {
    let assessment = case.assessment();
    if assessment.nothing_leads() { None } else { assessment.leader().map(|ranked| ranked.cause) }
}

fn settling(scenario: &Scenario, case: &Case<'_>, misses: &mut Vec<Miss>) {
    let settled = case.is_settled();
    let said = |outcome, expected: bool, text: &str| {
        let (expected, found) = (expected.to_string(), settled.to_string());
        let because = vec![leads(case)];
        Miss { because, ..miss(outcome, About::Settled, expected, found, text.to_owned()) }
    };
    match scenario.expect.settled {
        Some(true) if !settled => {
            misses.push(said(Outcome::Undecided, true, "it should be settled, and is not"));
        }
        Some(true) => wrong_leader(scenario, case, misses),
        Some(false) if settled => {
            misses.push(said(Outcome::Otherwise, false, "it should not be settled, and is"));
        }
        _ => {}
    }
}

/// `` `pump_oil` leads: likely (about 7 in 10) (0.680) ``
fn leads(case: &Case<'_>) -> String {
    let leader = leader(case);
    let p = probability(case, leader);
    format!("`{}` leads: {} ({p:.3})", cause_name(case, leader), in_words(p))
}

/// Settled on a cause that the scenario gives another band than the likely ones.
fn wrong_leader(scenario: &Scenario, case: &Case<'_>, misses: &mut Vec<Miss>) {
    let is_expected = |(cause, band): &&(Option<CauseId>, Band)| {
        cause.is_some() && band.least >= Likelihood::Likely
    };
    let expected: Vec<Option<CauseId>> =
        scenario.expect.ranking.iter().filter(is_expected).map(|(cause, _)| *cause).collect();
    let Some(leader) = leader(case) else { return };
    if expected.is_empty() || expected.contains(&Some(leader)) {
        return;
    }
    let name = cause_name(case, Some(leader));
    let wanted: Vec<String> = expected.iter().map(|cause| cause_name(case, *cause)).collect();
    let text = format!("`{name}` leads, which was not expected");
    let because = std::iter::once(leads(case)).chain(reasons(case, Some(leader))).collect();
    let missed = miss(Outcome::WrongCause, About::Leader, wanted.join(", "), name, text);
    misses.push(Miss { because, probability: Some(probability(case, Some(leader))), ..missed });
}

fn findings(scenario: &Scenario, case: &Case<'_>, misses: &mut Vec<Miss>) {
    for (id, wanted) in &scenario.expect.findings {
        let judged = case.assessment().finding(*id);
        if wanted.fits(&judged.state) {
            continue;
        }
        let found = finding_word(case, *id, &judged.state);
        let name = case.finding_name(*id).to_owned();
        let said = case.finding_says(*id).text.to_text();
        let text = format!("finding `{name}` should be {}, and is {found}: {said}", wanted.label());
        let about = About::Finding(name);
        let missed = miss(Outcome::Otherwise, about, wanted.label(), found, text);
        misses.push(Miss { because: unanswered(case, *id, &judged.state), ..missed });
    }
}

/// The most questions that are named for a finding that can't be told (limit of ours).
const MOST_UNANSWERED: usize = 5;

/// The questions without an answer that keep a finding from being told.
fn unanswered(case: &Case<'_>, id: FindingId, state: &FindingState) -> Vec<String> {
    if !matches!(state, FindingState::NotApplicable | FindingState::Unknown) {
        return Vec::new();
    }
    let (handbook, sheet) = (case.handbook(), case.worksheet());
    let behind = handbook.questions_under(handbook.finding(id).symbol).iter();
    let has_stand_in = |question: &QuestionId| handbook.question(*question).not_sure.is_some();
    let open = behind.filter(|question| !has_stand_in(question)).filter_map(|&question| {
        let lack = match case.latest_answer(question).map(|given| &given.reply) {
            None | Some(Reply::Skipped) => "has no answer",
            Some(Reply::NotSure) => "is answered with `not sure`",
            Some(_) if sheet.is_unanswered(question) => "has no answer that still counts",
            Some(_) => return None,
        };
        Some(format!("`{}` {lack}", handbook.question(question).id))
    });
    open.take(MOST_UNANSWERED).collect()
}

/// How a finding stands, in the word of a scenario.
#[must_use]
pub fn finding_word(case: &Case<'_>, id: FindingId, state: &FindingState) -> String {
    match state {
        FindingState::True(_) => "true".to_owned(),
        FindingState::False(_) => "false".to_owned(),
        FindingState::TooClose(_) => "too close".to_owned(),
        FindingState::NotApplicable => "not applicable".to_owned(),
        FindingState::Unknown => "unknown".to_owned(),
        FindingState::Seen(choice) => case.choice_id(id, *choice),
    }
}

fn next(scenario: &Scenario, case: &Case<'_>, misses: &mut Vec<Miss>) {
    let Some(wanted) = &scenario.expect.next else { return };
    let checks = case.checks_left();
    let mut best: Vec<QuestionId> = Vec::new();
    for question in checks.iter().take(BEST_CHECKS).flat_map(|check| &check.questions) {
        if !best.contains(question) {
            best.push(*question);
        }
    }
    let name = |id: &QuestionId| case.handbook().question(*id).id.clone();
    let list =
        |ids: &[QuestionId]| format!("[{}]", ids.iter().map(name).collect::<Vec<_>>().join(", "));
    let mut missed = |text: String| {
        misses.push(miss(Outcome::Otherwise, About::Next, list(wanted), list(&best), text));
    };
    if wanted.is_empty() && !case.is_settled() && !checks.is_empty() {
        missed("no check should be left to make, and some are".to_owned());
    }
    for question in wanted.iter().filter(|question| !best.contains(question)) {
        missed(format!("the next checks should ask `{}`, and don't", name(question)));
    }
}

fn stopping(scenario: &Scenario, case: &Case<'_>, ending: &Ending, misses: &mut Vec<Miss>) {
    let found = stop_of(case, ending);
    let is_told_by_end = last_step::is_stop(scenario, case.handbook());
    let wanted = match &scenario.expect.stopped {
        Some(wanted) => wanted.clone(),
        None if is_told_by_end => return,
        None => Stop::Nothing,
    };
    let is_met = match wanted {
        Stop::Anything => found != Stop::Nothing,
        _ => found == wanted,
    };
    if is_met {
        return;
    }
    let caution = |id| case.handbook().caution(id).id.clone();
    let name = |stop: &Stop| match stop {
        Stop::Nothing => "by nothing".to_owned(),
        Stop::Anything => "by something".to_owned(),
        Stop::Caution(id) => format!("by caution `{}`", caution(*id)),
        Stop::Step(id) => format!("at step `{id}`"),
    };
    let written = |stop: &Stop| match stop {
        Stop::Nothing => "no".to_owned(),
        Stop::Anything => "yes".to_owned(),
        Stop::Caution(id) => caution(*id),
        Stop::Step(id) => id.clone(),
    };
    let text = format!("the work should be stopped {}, and is {}", name(&wanted), name(&found));
    let (expected, found) = (written(&wanted), written(&found));
    misses.push(miss(Outcome::Otherwise, About::Stopped, expected, found, text));
}

/// What stopped a case.
#[must_use]
pub fn stop_of(case: &Case<'_>, ending: &Ending) -> Stop {
    match (ending, case.now()) {
        (Ending::Stopped(Some(caution)), _) => Stop::Caution(*caution),
        (Ending::Stopped(None), Now::Stopped { place, .. }) => {
            Stop::Step(case.handbook().tree(place.tree).step(place.step).id.clone())
        }
        _ => Stop::Nothing,
    }
}
