//! Which steps, branches and findings the scenarios reached.

use std::collections::BTreeSet;

use crate::case::{Case, Now, Place};
use crate::evidence::FindingState;
use crate::handbook::{Handbook, Observes, Step, StepId, Target, Tree, TreeId};

/// What cases have reached, added up.
#[derive(Clone, Debug, Default)]
pub struct Coverage {
    steps: BTreeSet<(TreeId, StepId)>,
    branches: BTreeSet<(TreeId, StepId, Led)>,
    findings: BTreeSet<(usize, u16)>,
}

/// A target that can be ordered.
type Led = (bool, usize);

fn led(target: Target) -> Led {
    match target {
        Target::Step(step) => (false, step.index()),
        Target::Tree(tree) => (true, tree.index()),
    }
}

impl Coverage {
    /// Adds what a case reached.
    pub fn add(&mut self, case: &Case<'_>) {
        let mut reach = |place: Place| {
            self.steps.insert((place.tree, place.step));
        };
        case.path().iter().for_each(|passed| reach(passed.place));
        match case.now() {
            Now::Ask { place, .. }
            | Now::Do { place, .. }
            | Now::Act { place, .. }
            | Now::Stopped { place, .. } => reach(*place),
            Now::Acknowledge { .. } | Now::Ended { .. } => {}
        }
        for (place, target) in case.branches() {
            self.branches.insert((place.tree, place.step, led(*target)));
        }
        for witness in &case.assessment().witnesses {
            let i = witness.finding.index();
            match witness.judged.state {
                FindingState::True(_) => drop(self.findings.insert((i, 1))),
                FindingState::False(_) => drop(self.findings.insert((i, 0))),
                FindingState::Seen(choice) => drop(self.findings.insert((i, choice))),
                _ => {}
            }
        }
    }

    /// Steps that no case reached, as `tree.step`.
    #[must_use]
    pub fn steps_missed(&self, handbook: &Handbook) -> Vec<String> {
        each_step(handbook)
            .filter(|(tree, _, step, _)| !self.steps.contains(&(*tree, *step)))
            .map(|(_, tree, _, step)| format!("{}.{}", tree.id, step.id))
            .collect()
    }

    /// Branches that no case took, as `tree.step -> step`.
    #[must_use]
    pub fn branches_missed(&self, handbook: &Handbook) -> Vec<String> {
        let mut missed = Vec::new();
        for (tree_id, tree, step_id, step) in each_step(handbook) {
            for target in branches_of(step) {
                if !self.branches.contains(&(tree_id, step_id, led(target))) {
                    let to = match target {
                        Target::Step(to) => tree.step(to).id.clone(),
                        Target::Tree(to) => format!("tree {}", handbook.tree(to).id),
                    };
                    missed.push(format!("{}.{} -> {to}", tree.id, step.id));
                }
            }
        }
        missed
    }

    /// Findings that no case found true, or false, as `finding is true`.
    #[must_use]
    pub fn findings_missed(&self, handbook: &Handbook) -> Vec<String> {
        let mut missed = Vec::new();
        for (i, finding) in handbook.findings().iter().enumerate() {
            for outcome in 0..finding.outcomes() as u16 {
                if !self.findings.contains(&(i, outcome)) {
                    let word = match finding.observes {
                        Observes::When(_) => ["false", "true"][usize::from(outcome)].to_owned(),
                        Observes::Of(question) => {
                            handbook.question(question).choices[usize::from(outcome)].id.clone()
                        }
                    };
                    missed.push(format!("{} is {word}", finding.id));
                }
            }
        }
        missed
    }
}

fn each_step(handbook: &Handbook) -> impl Iterator<Item = (TreeId, &Tree, StepId, &Step)> {
    handbook.trees().iter().enumerate().flat_map(|(t, tree)| {
        let steps = tree.steps.iter().enumerate();
        steps.map(move |(s, step)| (TreeId::at(t), tree, StepId::at(s), step))
    })
}

/// Every target of a step that has more than one, each once.
fn branches_of(step: &Step) -> Vec<Target> {
    let mut targets = step.next.targets();
    targets.extend(step.bound.map(|(_, then)| Target::Step(then)));
    let mut seen = BTreeSet::new();
    targets.retain(|target| seen.insert(led(*target)));
    targets
}
