//! Scenarios that would reach what none has reached, with their expectations left to the author.

use std::fmt::Write as _;

use super::coverage::{Coverage, Named};
use super::expectation::Expectation;
use super::goals::goals;
use super::last_step;
use super::outcome::rehearse;
use super::scenario::Scenario;
use crate::analysis::{
    Analysis, Answering, DeadEnds, EVALUATIONS_A_GOAL, Effort, Found, Goal, Stuck, Witness,
    usual_answers,
};
use crate::case::{Case, Event, read_answer};
use crate::evidence::Engine;
use crate::handbook::{CautionSeverity, Handbook, Next, QuestionId, TreeId};

/// How many conditions are evaluated in the search for everything that is missing (limit of ours).
const EVALUATIONS: u32 = 45_000;

/// How many of them for one thing, before the others have had their turn (limit of ours).
const EVALUATIONS_AT_FIRST: u32 = 100;

/// A scenario that reaches something that no other has reached.
#[derive(Clone, Debug, PartialEq)]
pub struct Filled {
    /// What it reaches: `hose.look -> cracked`.
    pub reaches: String,
    /// The name of its file, without the ending.
    pub file: String,
    /// The whole text.
    pub text: String,
}

/// Why there is no scenario for something. None of these proves that there can be none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lack {
    /// Nothing tells what to look for.
    NotLookedFor,
    /// Answers were found that lead where it should come about, and the case came out otherwise.
    Otherwise,
    /// No answers were found; with where the way that came furthest was stuck.
    NoAnswers(Option<String>),
    /// The search was given up, as much had been tried as may be; with the same.
    GivenUp(Option<String>),
}

/// What was written for what is missing.
#[derive(Clone, Debug, Default)]
pub struct Filling {
    /// Scenarios, each held against the rules before it is given.
    pub filled: Vec<Filled>,
    /// What there is none for, by name.
    pub left: Vec<(String, Lack)>,
}

/// Looks for scenarios for what is missing. What one reaches on the way needs no other. How much
/// is tried is bounded, for each of them and for all, and the same on every machine.
#[must_use]
pub fn fill(coverage: &mut Coverage, handbook: &Handbook, engine: &Engine) -> Filling {
    let analysis = Analysis::of(handbook);
    let all = Effort::of(EVALUATIONS);
    let mut filling = Filling::default();
    let first = Lack::GivenUp(None);
    let mut open: Vec<(Named, Lack)> =
        coverage.missing().into_iter().map(|named| (named, first.clone())).collect();
    for most in [EVALUATIONS_AT_FIRST, EVALUATIONS_A_GOAL] {
        let is_last = most == EVALUATIONS_A_GOAL;
        let (mut given_up, dead) = (Vec::new(), DeadEnds::default());
        for (named, before) in open {
            if coverage.has(named.target) {
                continue;
            }
            if all.is_spent() {
                // Nothing is left to try with, so what is known from before stands.
                filling.left.push((named.name, before));
                continue;
            }
            let effort = all.lend(most);
            let found = reaching(&named, &analysis, engine, coverage, (&effort, &dead));
            all.take_back(&effort);
            match found {
                Ok((scenario, end, with)) => {
                    *coverage = with;
                    let text = written(handbook, &scenario, end.as_deref());
                    let file = slug(&named.name);
                    filling.filled.push(Filled { file, text, reaches: named.name });
                }
                Err(lack @ Lack::GivenUp(_)) if !is_last => given_up.push((named, lack)),
                Err(lack) => filling.left.push((named.name, lack)),
            }
        }
        open = given_up;
    }
    // What was reached on the way to something else is not left any more.
    let missing: Vec<String> = coverage.missing().into_iter().map(|named| named.name).collect();
    filling.left.retain(|(name, _)| missing.contains(name));
    filling
}

/// A scenario, the step at which it ends, and the coverage as it is then.
type Reaching = (Scenario, Option<String>, Coverage);

/// A scenario that reaches something; else why there is none, by the goal that says most.
fn reaching(
    named: &Named,
    analysis: &Analysis<'_>,
    engine: &Engine,
    coverage: &Coverage,
    (effort, dead): (&Effort, &DeadEnds),
) -> Result<Reaching, Lack> {
    let handbook = analysis.handbook();
    let mut lack = Lack::NotLookedFor;
    for goal in goals(handbook, named) {
        let stuck = |at: Option<Stuck>| at.map(|at| in_words(handbook, at));
        let found = match analysis.look_beside(goal, Answering::InTurn, effort, dead) {
            Found::Answers(witness) => tried(named, goal, &witness, engine, handbook, coverage),
            Found::Nothing(at) => Err(Lack::NoAnswers(stuck(at))),
            Found::GivenUp(at) => Err(Lack::GivenUp(stuck(at))),
        };
        match found {
            Ok(found) => return Ok(found),
            // What was given up may be taken up again, and outweighs what was not.
            Err(other) if !matches!(lack, Lack::GivenUp(_)) => lack = other,
            Err(_) => {}
        }
    }
    Err(lack)
}

/// The scenario of a witness, where it reaches what it is for.
fn tried(
    named: &Named,
    goal: Goal,
    witness: &Witness,
    engine: &Engine,
    handbook: &Handbook,
    coverage: &Coverage,
) -> Result<Reaching, Lack> {
    let scenario = scenario(handbook, goal.tree(), witness, &named.name);
    let mut scenario = with_usual_answers(scenario, named, engine, handbook);
    let case = rehearse(&scenario, handbook, engine).case;
    let mut with = coverage.clone();
    with.add(&case);
    scenario.acknowledge.retain(|caution| was_acknowledged(&case, caution));
    let end = last_step::of(&case, scenario.tree, false);
    if with.has(named.target) { Ok((scenario, end, with)) } else { Err(Lack::Otherwise) }
}

/// Where a search was stuck: ``at hose.look, `rise > much` was not made true``.
fn in_words(handbook: &Handbook, stuck: Stuck) -> String {
    let tree = handbook.tree(stuck.tree);
    let step = tree.step(stuck.step);
    let at = format!("at {}.{}", tree.id, step.id);
    match &step.next {
        Next::ByRules { rules, .. } => {
            let text = rules[stuck.rule].condition.text().split_whitespace();
            let text = text.collect::<Vec<_>>().join(" ");
            format!("{at}, `{text}` was not made {}", stuck.wanted)
        }
        _ => at,
    }
}

/// The scenario with usual answers in the place of those that a person would be asked back for,
/// where it still reaches what it is for.
fn with_usual_answers(
    mut scenario: Scenario,
    named: &Named,
    engine: &Engine,
    handbook: &Handbook,
) -> Scenario {
    let reaches =
        |scenario: &Scenario| Coverage::has_in(&rehearse(scenario, handbook, engine).case, named);
    for place in 0..scenario.answers.len() {
        let question = handbook.question(scenario.answers[place].0);
        for at in 0..scenario.answers[place].1.len() {
            let is_odd = |typed: &str| {
                read_answer(question, None, typed).is_ok_and(|read| read.slip.is_some())
            };
            if !is_odd(&scenario.answers[place].1[at]) {
                continue;
            }
            let usual = usual_answers(question).into_iter().find_map(|typed| {
                let mut tried = scenario.clone();
                tried.answers[place].1[at] = typed;
                reaches(&tried).then_some(tried)
            });
            scenario = usual.unwrap_or(scenario);
        }
    }
    scenario
}

fn was_acknowledged(case: &Case<'_>, id: &str) -> bool {
    case.events()
        .iter()
        .any(|event| matches!(event, Event::Acknowledged { caution, .. } if caution == id))
}

fn said(witness: &Witness) -> impl Iterator<Item = &(QuestionId, String)> {
    witness.beforehand.iter().chain(&witness.answers)
}

fn scenario(handbook: &Handbook, tree: TreeId, witness: &Witness, name: &str) -> Scenario {
    let mut answers: Vec<(QuestionId, Vec<String>)> = Vec::new();
    for (question, typed) in said(witness) {
        match answers.iter_mut().find(|(asked, _)| asked == question) {
            Some((_, texts)) => texts.push(typed.clone()),
            None => answers.push((*question, vec![typed.clone()])),
        }
    }
    let stops = handbook.cautions().iter().filter(|c| c.severity == CautionSeverity::Stop);
    Scenario {
        name: format!("Reaches {name}"),
        tree,
        answers,
        acknowledge: stops.map(|caution| caution.id.clone()).collect(),
        told: Vec::new(),
        rig: None,
        expect: Expectation::default(),
        expects_nothing: true,
    }
}

/// A scenario as its author finds it. Answers stand in double quotes, in which JSON is YAML.
fn written(handbook: &Handbook, scenario: &Scenario, end: Option<&str>) -> String {
    let mut text = format!("scenario: {}\n", quoted(&scenario.name));
    let _ = writeln!(text, "tree: {}", handbook.tree(scenario.tree).id);
    if !scenario.answers.is_empty() {
        text.push_str("answers:\n");
    }
    for (question, texts) in &scenario.answers {
        let texts: Vec<String> = texts.iter().map(|text| quoted(text)).collect();
        let value = match &texts[..] {
            [one] => one.clone(),
            several => format!("[{}]", several.join(", ")),
        };
        let _ = writeln!(text, "  {}: {value}", handbook.question(*question).id);
    }
    if !scenario.acknowledge.is_empty() {
        let _ = writeln!(text, "acknowledge: [{}]", scenario.acknowledge.join(", "));
    }
    text.push_str(
        "\n# What should come out is yours to say. Take away the marks, and write what somebody who\n\
         # knows the trade would conclude from these answers:\n\
         # expect:\n\
         #   settled: true, or false while it is open\n\
         #   ranking: a cause or nothing_wrong, and how likely it should be, such as at least likely\n\
         #   findings: a finding, and true, false, too close, not applicable or the choice seen\n",
    );
    if let Some(end) = end {
        let _ = writeln!(text, "#   end: the step at which it ends; now that is {end}");
    }
    text
}

fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

/// `hose.look -> cracked` as the name of a file.
fn slug(name: &str) -> String {
    let letters = name.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '_' });
    let slug: String = letters.collect();
    slug.split('_').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("_")
}
