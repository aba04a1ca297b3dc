//! Scenarios that would reach what none has reached, with their expectations left to the author.

use std::fmt::Write as _;

use super::coverage::{Coverage, Wanted};
use super::expectation::Expectation;
use super::outcome::rehearse;
use super::scenario::Scenario;
use crate::analysis::{Analysis, Goal, Witness, branches_of, target_of};
use crate::case::questions_reached;
use crate::evidence::Engine;
use crate::handbook::{CautionSeverity, Handbook, QuestionId, TreeId};

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

/// Scenarios for what is missing, each held against the rules before it is given; and what
/// none was found for. What one reaches on the way needs no other.
#[must_use]
pub fn fill(
    coverage: &mut Coverage,
    handbook: &Handbook,
    engine: &Engine,
) -> (Vec<Filled>, Vec<String>) {
    let analysis = Analysis::of(handbook);
    let (mut filled, mut left) = (Vec::new(), Vec::new());
    for (wanted, name) in coverage.wanted() {
        if coverage.has(wanted) {
            continue;
        }
        let found = goals(handbook, wanted).into_iter().find_map(|(tree, goal)| {
            let witness = analysis.witness_for(goal)?;
            let tree = tree.or_else(|| tree_for(handbook, &witness))?;
            let scenario = scenario(handbook, tree, &witness, &name);
            let case = rehearse(&scenario, handbook, engine).case;
            let mut with = coverage.clone();
            with.add(&case);
            with.has(wanted).then_some((scenario, with))
        });
        match found {
            Some((scenario, with)) => {
                *coverage = with;
                let text = written(handbook, &scenario);
                filled.push(Filled { file: slug(&name), text, reaches: name });
            }
            None => left.push(name),
        }
    }
    (filled, left)
}

/// What to look for, with the tree to begin where that is fixed.
fn goals(handbook: &Handbook, wanted: Wanted) -> Vec<(Option<TreeId>, Goal)> {
    match wanted {
        Wanted::Step(tree, step) => vec![(Some(tree), Goal::Step(tree, step))],
        Wanted::Branch(tree, step, target) => {
            let at = handbook.tree(tree).step(step);
            let branches = branches_of(at).into_iter();
            let leading = branches.filter(|branch| target_of(at, *branch) == Some(target));
            leading.map(|branch| (Some(tree), Goal::Branch(tree, step, branch))).collect()
        }
        Wanted::Finding(finding, holds) => vec![(None, Goal::Finding(finding, holds))],
    }
}

/// The tree that can ask the most of what a witness answers.
fn tree_for(handbook: &Handbook, witness: &Witness) -> Option<TreeId> {
    let questions: Vec<QuestionId> = said(witness).map(|(question, _)| *question).collect();
    let asks = |tree: &TreeId| {
        let asked = questions_reached(handbook, *tree);
        questions.iter().filter(|question| asked.contains(question)).count()
    };
    (0..handbook.trees().len()).map(TreeId::at).rev().max_by_key(asks)
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
        expect: Expectation::default(),
        expects_nothing: true,
    }
}

/// A scenario as its author finds it. Answers stand in double quotes, in which JSON is YAML.
fn written(handbook: &Handbook, scenario: &Scenario) -> String {
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
