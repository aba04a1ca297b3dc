//! Scenarios and answers files.

use super::{ANSWERS_KEYS, EXPECTATION_KEYS, RIG_KEYS, SCENARIO_KEYS};
use crate::diagnostic::{Code, Diagnostic, near_name, sort_in_file_order};
use crate::document::bound::bound;
use crate::document::shape::{check_id, is_id, read_scalar, read_text, read_texts};
use crate::document::{Entry, MapReader, Node, NodeValue, Scalar, Spanned, read_yaml};
use crate::source::{SourceId, Sources, Span};
use crate::text::count;

/// A scenario or an answers file as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawScenario {
    /// What the scenario is called (`scenario`); must be written in a scenario, absent in an
    /// answers file.
    pub name: Option<Scalar>,
    /// The tree to run; must be written in a scenario.
    pub tree: Option<Spanned<String>>,
    /// By question, the answers as they would be typed, one for each time it is asked.
    pub answers: Vec<(Spanned<String>, Vec<Scalar>)>,
    /// Cautions that are acknowledged.
    pub acknowledge: Vec<Spanned<String>>,
    /// Questions whose answers are told before anything is asked; only in a scenario.
    pub told: Vec<Spanned<String>>,
    /// A simulated rig that gives the answers that are not written; absent in an answers file.
    pub rig: Option<RawRig>,
    /// What must come out; absent in an answers file.
    pub expect: Option<RawExpectation>,
}

/// A simulated rig as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawRig {
    /// Where the key `rig` is written.
    pub span: Span,
    /// By fault, its size.
    pub faults: Vec<(Spanned<String>, Scalar)>,
    /// What chance begins with.
    pub seed: Option<Spanned<u32>>,
    /// The vacuum that the job asks for.
    pub target: Option<Scalar>,
    /// With how many trees it is gone on at most.
    pub trees: Option<Spanned<u32>>,
}

/// What must come out of a scenario; what is not written may be anything.
#[derive(Clone, Debug, PartialEq)]
pub struct RawExpectation {
    /// Where the key `expect` is written.
    pub span: Span,
    /// Whether the case is settled.
    pub settled: Option<Spanned<bool>>,
    /// By cause, a band of the words for likelihood, such as `at least likely`.
    pub ranking: Vec<(Spanned<String>, Scalar)>,
    /// By finding, its state: `true`, `false`, `too close`, a choice ...
    pub findings: Vec<(Spanned<String>, Scalar)>,
    /// The trees or checks offered next, in order; `[]` says that none is.
    pub next: Option<Vec<Spanned<String>>>,
    /// Where the list behind `next` is written.
    pub next_span: Option<Span>,
    /// The step at which it ends: `step` of its own tree, or `tree.step`.
    pub end: Option<Scalar>,
    /// Whether or where it stops for safety: `true`, `false` or a step.
    pub stopped: Option<Scalar>,
}

/// Reads a scenario: what could be read, and every fault in file order.
#[must_use]
pub fn read_scenario(sources: &Sources, id: SourceId) -> (Option<RawScenario>, Vec<Diagnostic>) {
    read(sources, id, true)
}

/// Reads an answers file: a scenario without a name and without expectations. Its tree may be
/// left out.
#[must_use]
pub fn read_answers(sources: &Sources, id: SourceId) -> (Option<RawScenario>, Vec<Diagnostic>) {
    read(sources, id, false)
}

/// Reads an answers file, or a scenario, which is one that has a name.
#[must_use]
pub fn read_answers_or_scenario(
    sources: &Sources,
    id: SourceId,
) -> (Option<RawScenario>, Vec<Diagnostic>) {
    let has_name = |root: &Node| {
        root.entries().is_some_and(|all| all.iter().any(|entry| entry.key.text == "scenario"))
    };
    let is_scenario = read_yaml(sources, id).0.as_ref().is_some_and(has_name);
    read(sources, id, is_scenario)
}

fn read(
    sources: &Sources,
    id: SourceId,
    is_scenario: bool,
) -> (Option<RawScenario>, Vec<Diagnostic>) {
    let (root, mut faults) = read_yaml(sources, id);
    let Some(root) = root else { return (None, faults) };
    if let (false, Some(fault)) = (is_scenario, answers_alone(&root)) {
        faults.push(fault);
        sort_in_file_order(&mut faults);
        bound(&mut faults);
        return (None, faults);
    }
    let what = if is_scenario { "a scenario" } else { "an answers file" };
    let mut reader = MapReader::new(&root, what, Span::new(id, 0, 0), &mut faults);
    reader.know(if is_scenario { SCENARIO_KEYS } else { ANSWERS_KEYS });
    let mut scenario = RawScenario {
        name: None,
        tree: reader.id("tree"),
        answers: answers(&mut reader),
        acknowledge: reader.ids("acknowledge"),
        told: Vec::new(),
        rig: None,
        expect: None,
    };
    if is_scenario {
        scenario.name = reader.text("scenario");
        scenario.told = reader.ids("told");
        scenario.rig = rig(&mut reader);
        scenario.expect = expectation(&mut reader);
    }
    reader.finish();
    sort_in_file_order(&mut faults);
    bound(&mut faults);
    (Some(scenario), faults)
}

/// The fault of a file that holds answers without the key that they belong under, told once.
fn answers_alone(root: &Node) -> Option<Diagnostic> {
    let entries = root.entries()?;
    let is_known = |entry: &Entry| ANSWERS_KEYS.iter().any(|known| known.key == entry.key.text);
    let is_answer = |entry: &&Entry| {
        let key = entry.key.text.as_str();
        let nearest = near_name(key, SCENARIO_KEYS.iter().map(|known| known.key));
        let is_other = SCENARIO_KEYS.iter().any(|known| known.key == key) || nearest.is_some();
        is_id(key) && entry.value.entries().is_none() && !is_other
    };
    let others: Vec<&Entry> = entries.iter().filter(|entry| !is_known(entry)).collect();
    let has_answers = entries.iter().any(|entry| entry.key.text == "answers");
    let first = others.first().filter(|_| !has_answers && others.iter().all(is_answer))?;
    let title = format!("{} without `answers:` above", count(others.len(), "answer"));
    let fault = Diagnostic::at(Code::MissingKey, title, first.key.span, "`answers:` belongs above");
    Some(
        fault
            .note("beside the answers, a file may name the `tree` and what it will `acknowledge`")
            .help("write a line `answers:` and indent each answer below it by two spaces"),
    )
}

fn answers(reader: &mut MapReader<'_, '_>) -> Vec<(Spanned<String>, Vec<Scalar>)> {
    let mut answers = Vec::new();
    for entry in reader.map("answers") {
        let (key, faults) = (&entry.key, reader.faults());
        check_id(&key.text, key.span, "a question in `answers`", faults);
        let what = format!("the answer to `{}`", key.text);
        let texts = match entry.value.value {
            NodeValue::List(_) => read_texts(&entry.value, key.span, &what, faults),
            _ => {
                let belongs = "an answer or a list of answers";
                read_scalar(&entry.value, key.span, &what, belongs, faults).into_iter().collect()
            }
        };
        answers.push((Spanned::new(key.text.clone(), key.span), texts));
    }
    answers
}

fn rig(reader: &mut MapReader<'_, '_>) -> Option<RawRig> {
    let entry = reader.entry("rig")?;
    let span = entry.key.span;
    let mut reader = MapReader::new(&entry.value, "`rig`", span, reader.faults());
    reader.know(RIG_KEYS);
    let rig = RawRig {
        span,
        faults: by_id(&mut reader, "faults"),
        seed: reader.whole_number("seed"),
        target: reader.text("target"),
        trees: reader.whole_number("trees"),
    };
    reader.finish();
    Some(rig)
}

fn expectation(reader: &mut MapReader<'_, '_>) -> Option<RawExpectation> {
    let entry = reader.entry("expect")?;
    let span = entry.key.span;
    let mut reader = MapReader::new(&entry.value, "`expect`", span, reader.faults());
    reader.know(EXPECTATION_KEYS);
    let next = reader.ids("next");
    let next_span = reader.entry("next").map(|entry| entry.value.span);
    let expectation = RawExpectation {
        span,
        settled: reader.yes_no("settled"),
        ranking: by_id(&mut reader, "ranking"),
        findings: by_id(&mut reader, "findings"),
        next: reader.has("next").then_some(next),
        next_span,
        end: reader.text("end"),
        stopped: reader.text("stopped"),
    };
    reader.finish();
    Some(expectation)
}

fn by_id(reader: &mut MapReader<'_, '_>, key: &'static str) -> Vec<(Spanned<String>, Scalar)> {
    let mut texts = Vec::new();
    for Entry { key: name, value } in reader.map(key) {
        let faults = reader.faults();
        check_id(&name.text, name.span, &format!("a name in `{key}`"), faults);
        let what = format!("`{}` in `{key}`", name.text);
        if let Some(text) = read_text(value, name.span, &what, faults) {
            texts.push((Spanned::new(name.text.clone(), name.span), text));
        }
    }
    texts
}
