//! From a scenario as written to one that can be run.

use super::answers::{GivenAnswers, Logs, resolve_answers};
use super::expectation::{Expectation, FindingWord, Stop};
use super::last_step;
use super::rigged::{RiggedScenario, rigged_scenario};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::{RawExpectation, RawScenario};
use crate::document::{Scalar, Spanned};
use crate::evidence::wording::Band;
use crate::handbook::{FindingId, Handbook, Observes, QuestionId, StepKind, TreeId};
use crate::text::list_or;

/// The name under which a scenario expects that nothing is wrong.
pub(super) const NOTHING_WRONG: &str = "nothing_wrong";

/// The states that any finding may have.
const FINDING_WORDS: [&str; 5] = ["true", "false", "too close", "not applicable", "unknown"];

/// Answers given beforehand and what they should lead to.
#[derive(Clone, Debug)]
pub struct Scenario {
    /// What it is about.
    pub name: String,
    /// The tree it runs.
    pub tree: TreeId,
    /// Answers as typed, by question.
    pub answers: Vec<(QuestionId, Vec<String>)>,
    /// Cautions that it acknowledges.
    pub acknowledge: Vec<String>,
    /// Questions whose answers are told before anything is asked.
    pub told: Vec<QuestionId>,
    /// A simulated rig that gives the answers not given here.
    pub rig: Option<Box<RiggedScenario>>,
    /// What should come out.
    pub expect: Expectation,
    /// Whether it has no `expect`, so that it can't fall short.
    pub expects_nothing: bool,
}

/// Finds everything that a scenario names in a handbook; `logs` gives the logs that it names.
///
/// # Errors
/// Every fault of the scenario.
pub fn resolve_scenario(
    raw: &RawScenario,
    handbook: &Handbook,
    logs: Logs<'_>,
) -> Result<Scenario, Vec<Diagnostic>> {
    let mut faults = Vec::new();
    let given = resolve_answers(raw, handbook, logs, &mut faults);
    let told = told(raw, &given, handbook, &mut faults);
    let rig = raw.rig.as_ref().and_then(|raw| rigged_scenario(raw, handbook, &mut faults));
    let expect = raw.expect.as_ref().map(|raw| expectation(raw, given.tree, handbook, &mut faults));
    match (given.tree, faults.is_empty()) {
        (Some(tree), true) => Ok(Scenario {
            name: raw.name.as_ref().map(|name| name.text.clone()).unwrap_or_default(),
            tree,
            answers: given.answers,
            acknowledge: given.acknowledge,
            told,
            rig: rig.map(Box::new),
            expects_nothing: expect.is_none(),
            expect: expect.unwrap_or_default(),
        }),
        _ => Err(faults),
    }
}

/// The questions whose answers are told first; each must have an answer.
fn told(
    raw: &RawScenario,
    given: &GivenAnswers,
    handbook: &Handbook,
    faults: &mut Vec<Diagnostic>,
) -> Vec<QuestionId> {
    let mut told = Vec::new();
    for name in &raw.told {
        let id = handbook.find_question(&name.value);
        match id.filter(|id| given.answers.iter().any(|(answered, _)| answered == id)) {
            Some(id) => told.push(id),
            None => {
                let near = near_name(&name.value, raw.answers.iter().map(|(id, _)| &*id.value));
                let title = format!("`{}` is told, and has no answer", name.value);
                let label = "no answer to it stands under `answers`";
                let fault = Diagnostic::at(Code::UnknownName, title, name.span, label);
                faults.push(fault.maybe_help(near.map(|near| format!("did you mean `{near}`?"))));
            }
        }
    }
    told
}

pub(super) fn found<'a, I>(
    found: Option<I>,
    what: &str,
    name: &Spanned<String>,
    ids: impl Iterator<Item = &'a str>,
    code: Code,
    faults: &mut Vec<Diagnostic>,
) -> Option<I> {
    if found.is_none() {
        let title = format!("the handbook has no {what} `{}`", name.value);
        let near = near_name(&name.value, ids);
        let fault = Diagnostic::at(code, title, name.span, format!("no {what} has this id"));
        faults.push(fault.maybe_help(near.map(|near| format!("did you mean `{near}`?"))));
    }
    found
}

pub(super) fn question(
    handbook: &Handbook,
    name: &Spanned<String>,
    code: Code,
    faults: &mut Vec<Diagnostic>,
) -> Option<QuestionId> {
    let ids = handbook.questions().iter().map(|question| question.id.as_str());
    found(handbook.find_question(&name.value), "question", name, ids, code, faults)
}

fn expectation(
    raw: &RawExpectation,
    tree: Option<TreeId>,
    handbook: &Handbook,
    faults: &mut Vec<Diagnostic>,
) -> Expectation {
    let mut expect =
        Expectation { settled: raw.settled.as_ref().map(|s| s.value), ..Expectation::default() };
    for (name, band) in &raw.ranking {
        let cause = if name.value == NOTHING_WRONG {
            Some(None)
        } else {
            let ids = handbook.causes().iter().map(|cause| cause.id.as_str());
            let cause = handbook.find_cause(&name.value);
            found(cause, "cause", name, ids, Code::UnknownExpectation, faults).map(Some)
        };
        if let (Some(cause), Some(band)) = (cause, band_of(band, faults)) {
            expect.ranking.push((cause, band));
        }
    }
    for (name, word) in &raw.findings {
        let ids = handbook.findings().iter().map(|finding| finding.id.as_str());
        let finding = handbook.find_finding(&name.value);
        let finding = found(finding, "finding", name, ids, Code::UnknownExpectation, faults);
        if let Some(finding) = finding
            && let Some(word) = finding_word(handbook, finding, word, faults)
        {
            expect.findings.push((finding, word));
        }
    }
    expect.next = raw.next.as_ref().map(|names| {
        let find = |name| question(handbook, name, Code::UnknownExpectation, faults);
        names.iter().filter_map(find).collect()
    });
    expect.end =
        raw.end.as_ref().and_then(|text| last_step::expected(handbook, tree, text, faults));
    expect.stopped = raw.stopped.as_ref().and_then(|text| stop(handbook, tree, text, faults));
    expect
}

fn band_of(text: &Scalar, faults: &mut Vec<Diagnostic>) -> Option<Band> {
    match text.text.parse() {
        Ok(band) => Some(band),
        Err(unknown) => {
            let title = format!("`{}` is not a likelihood", text.text);
            let label = unknown.to_string();
            faults.push(Diagnostic::at(Code::UnknownWord, title, text.span, label));
            None
        }
    }
}

fn finding_word(
    handbook: &Handbook,
    finding: FindingId,
    text: &Scalar,
    faults: &mut Vec<Diagnostic>,
) -> Option<FindingWord> {
    let plain = match text.text.replace(' ', "_").as_str() {
        "not_applicable" => Some(FindingWord::NotApplicable),
        "unknown" => Some(FindingWord::Unknown),
        "too_close" => Some(FindingWord::TooClose),
        "true" => Some(FindingWord::True),
        "false" => Some(FindingWord::False),
        _ => None,
    };
    let word = match handbook.finding(finding).observes {
        Observes::When(_) => plain,
        Observes::Of(question) => plain.or_else(|| {
            let choices = &handbook.question(question).choices;
            let place = choices.iter().position(|choice| choice.id == text.text)?;
            Some(FindingWord::Choice(place as u16, text.text.clone()))
        }),
    };
    if word.is_none() {
        let title = format!("finding `{}` can't be `{}`", handbook.finding(finding).id, text.text);
        let mut words: Vec<String> = FINDING_WORDS.map(|word| format!("`{word}`")).to_vec();
        if let Observes::Of(question) = handbook.finding(finding).observes {
            let choices = &handbook.question(question).choices;
            words.extend(choices.iter().map(|choice| format!("`{}`", choice.id)));
        }
        let label = format!("{} belongs here", list_or(&words));
        faults.push(Diagnostic::at(Code::UnknownExpectation, title, text.span, label));
    }
    word
}

/// `yes`, `no`, a caution's id, or the id of a stop step.
fn stop(
    handbook: &Handbook,
    tree: Option<TreeId>,
    text: &Scalar,
    faults: &mut Vec<Diagnostic>,
) -> Option<Stop> {
    let name = text.text.as_str();
    match name {
        "no" | "false" => return Some(Stop::Nothing),
        "yes" | "true" => return Some(Stop::Anything),
        _ => {}
    }
    if let Some(caution) = handbook.find_caution(name) {
        return Some(Stop::Caution(caution));
    }
    let is_stop_step = handbook
        .trees()
        .iter()
        .flat_map(|tree| &tree.steps)
        .any(|step| step.id == name && matches!(step.kind, StepKind::Stop { .. }));
    if is_stop_step {
        return Some(Stop::Step(name.to_owned()));
    }
    let title = format!("`{name}` stops nothing");
    let label = "a stop caution, the id of a stop step, `yes` or `no` belongs here";
    let fault = Diagnostic::at(Code::UnknownExpectation, title, text.span, label);
    let stop_steps = handbook.trees().iter().flat_map(|tree| &tree.steps);
    let stop_steps = stop_steps.filter(|step| matches!(step.kind, StepKind::Stop { .. }));
    let cautions = handbook.cautions().iter().map(|caution| caution.id.as_str());
    let stops = cautions.chain(stop_steps.map(|step| step.id.as_str()));
    let help = if last_step::is_end(handbook, tree, name) {
        Some(format!("to say at which step it ends, write `end: {name}`"))
    } else {
        near_name(name, stops).map(|near| format!("did you mean `{near}`?"))
    };
    faults.push(fault.maybe_help(help));
    None
}
