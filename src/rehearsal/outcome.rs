//! Running a scenario and saying how it came out.

use super::expectation::Stop;
use super::scenario::Scenario;
use crate::case::{Case, Ending, KeepNothing, Now, Script, interview, state_word};
use crate::evidence::wording::in_words;
use crate::evidence::{Engine, FindingState};
use crate::handbook::{CauseId, Handbook, Observes};

/// How a scenario came out, in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// Everything came out as expected.
    Found,
    /// A cause that should be likely is not.
    Missed,
    /// A cause that should be unlikely is not.
    FalseAlarm,
    /// Another cause leads than the one expected.
    WrongCause,
    /// It should be settled and is not.
    Undecided,
    /// Something else than expected: a finding, a stop, a next check, an answer not taken.
    Otherwise,
}

impl Outcome {
    /// The word in reports.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Found => "found",
            Self::Missed => "missed",
            Self::FalseAlarm => "false alarm",
            Self::WrongCause => "wrong cause",
            Self::Undecided => "undecided",
            Self::Otherwise => "otherwise",
        }
    }
}

/// One expectation that was not met.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Miss {
    /// In which way.
    pub outcome: Outcome,
    /// What was expected, what was found, and from what.
    pub text: String,
}

/// A scenario that was run.
#[derive(Debug)]
pub struct Rehearsed<'h> {
    /// How it came out.
    pub outcome: Outcome,
    /// What was not as expected.
    pub misses: Vec<Miss>,
    /// The case, for its path and findings.
    pub case: Case<'h>,
    /// How its interview ended.
    pub ending: Ending,
}

/// Runs a scenario.
#[must_use]
pub fn rehearse<'h>(
    scenario: &Scenario,
    handbook: &'h Handbook,
    engine: &'h Engine,
) -> Rehearsed<'h> {
    let mut case = Case::open(handbook, engine, scenario.tree);
    let mut script = Script::new(scenario.answers.clone(), scenario.acknowledge.clone());
    let ending = interview(&mut case, &mut script, &mut KeepNothing);
    let mut misses = Vec::new();
    if matches!(ending, Ending::Unusable(_)) {
        misses.push(Miss {
            outcome: Outcome::Otherwise,
            text: format!("an answer was not taken: {}", script.remarks.join("; ")),
        });
    }
    stopping(scenario, &case, &ending, &mut misses);
    ranking(scenario, &case, &mut misses);
    settling(scenario, &case, &mut misses);
    findings(scenario, &case, &mut misses);
    next(scenario, &case, &mut misses);
    let outcome = misses.first().map_or(Outcome::Found, |miss| miss.outcome);
    Rehearsed { outcome, misses, case, ending }
}

fn ranking(scenario: &Scenario, case: &Case<'_>, misses: &mut Vec<Miss>) {
    for (cause, band) in &scenario.expect.ranking {
        let p = probability(case, *cause);
        if band.holds(p) {
            continue;
        }
        let name = cause.map_or("nothing_wrong".to_owned(), |cause| case.cause_view(cause).id);
        let too_low = crate::evidence::wording::word(p) < band.least;
        let outcome = if too_low { Outcome::Missed } else { Outcome::FalseAlarm };
        let text = format!("`{name}` should be {band}, and is {} ({p:.3})", in_words(p));
        misses.push(Miss { outcome, text });
    }
}

fn probability(case: &Case<'_>, cause: Option<CauseId>) -> f64 {
    let assessment = case.assessment();
    cause.map_or(assessment.nothing_wrong, |cause| assessment.probability(cause))
}

fn settling(scenario: &Scenario, case: &Case<'_>, misses: &mut Vec<Miss>) {
    let settled = case.assessment().settled;
    match scenario.expect.settled {
        Some(true) if !settled => misses.push(Miss {
            outcome: Outcome::Undecided,
            text: "it should be settled, and is not".to_owned(),
        }),
        Some(true) => wrong_leader(scenario, case, misses),
        Some(false) if settled => misses.push(Miss {
            outcome: Outcome::Otherwise,
            text: "it should not be settled, and is".to_owned(),
        }),
        _ => {}
    }
}

/// Settled on a cause that the scenario gives another band than the likely ones.
fn wrong_leader(scenario: &Scenario, case: &Case<'_>, misses: &mut Vec<Miss>) {
    use crate::evidence::wording::Likelihood;
    let is_expected = |(cause, band): &&(Option<CauseId>, _)| {
        let band: &crate::evidence::wording::Band = band;
        cause.is_some() && band.least >= Likelihood::Likely
    };
    let mut expected = scenario.expect.ranking.iter().filter(is_expected).peekable();
    if expected.peek().is_none() || case.assessment().nothing_leads() {
        return;
    }
    let leader = case.assessment().leader().map(|ranked| ranked.cause);
    if !expected.any(|(cause, _)| *cause == leader) {
        let name = leader.map(|cause| case.cause_view(cause).id).unwrap_or_default();
        misses.push(Miss {
            outcome: Outcome::WrongCause,
            text: format!("`{name}` leads, which was not expected"),
        });
    }
}

fn findings(scenario: &Scenario, case: &Case<'_>, misses: &mut Vec<Miss>) {
    for (id, word) in &scenario.expect.findings {
        let judged = case.assessment().finding(*id);
        if word.fits(&judged.state) {
            continue;
        }
        let found = found_word(case, *id, &judged.state);
        let text = format!(
            "finding `{}` should be {}, and is {found}: {}",
            case.finding_name(*id),
            word.label(),
            judged.text.to_text(),
        );
        misses.push(Miss { outcome: Outcome::Otherwise, text });
    }
}

fn found_word(case: &Case<'_>, id: crate::handbook::FindingId, state: &FindingState) -> String {
    match (state, &case.handbook().finding(id).observes) {
        (FindingState::Seen(choice), Observes::Of(_)) => case.choice_id(id, *choice),
        _ => state_word(state),
    }
}

fn next(scenario: &Scenario, case: &Case<'_>, misses: &mut Vec<Miss>) {
    let Some(wanted) = &scenario.expect.next else { return };
    let checks = case.checks_left();
    if wanted.is_empty() && !case.assessment().settled && !checks.is_empty() {
        let text = "no check should be left to make, and some are".to_owned();
        misses.push(Miss { outcome: Outcome::Otherwise, text });
    }
    let best: Vec<_> = checks.iter().take(3).flat_map(|check| check.questions.clone()).collect();
    for question in wanted {
        if !best.contains(question) {
            let id = case.question_view(*question).id;
            let text = format!("the next checks should ask `{id}`, and don't");
            misses.push(Miss { outcome: Outcome::Otherwise, text });
        }
    }
}

fn stopping(scenario: &Scenario, case: &Case<'_>, ending: &Ending, misses: &mut Vec<Miss>) {
    let found = stop_of(case, ending);
    let wanted = scenario.expect.stopped.clone().unwrap_or(Stop::Nothing);
    let is_met = match wanted {
        Stop::Anything => found != Stop::Nothing,
        _ => found == wanted,
    };
    if is_met {
        return;
    }
    let name = |stop: &Stop| match stop {
        Stop::Nothing => "by nothing".to_owned(),
        Stop::Anything => "by something".to_owned(),
        Stop::Caution(id) => format!("by caution `{}`", case.caution_view(*id).id),
        Stop::Step(id) => format!("at step `{id}`"),
    };
    let text = format!("the work should be stopped {}, and is {}", name(&wanted), name(&found));
    misses.push(Miss { outcome: Outcome::Otherwise, text });
}

fn stop_of(case: &Case<'_>, ending: &Ending) -> Stop {
    match (ending, case.now()) {
        (Ending::Stopped(Some(caution)), _) => Stop::Caution(*caution),
        (Ending::Stopped(None), Now::Stopped { place, .. }) => {
            Stop::Step(case.handbook().tree(place.tree).step(place.step).id.clone())
        }
        _ => Stop::Nothing,
    }
}
