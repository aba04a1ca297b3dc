//! What there is to reach in a handbook, each with its name.

use std::collections::BTreeSet;

use super::Measure;
use super::compared::{Compared, thresholds};
use crate::document::raw::Section;
use crate::handbook::{
    CauseId, CautionId, Finding, Handbook, Observes, Step, StepId, Target as Led, Tree, TreeId,
};

/// Something to reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) enum Target {
    Step(TreeId, StepId),
    /// A way out of a step: to a step of the same tree, or to another tree.
    Branch(TreeId, StepId, Way),
    /// A finding by its place, with an outcome.
    Finding(usize, u16),
    /// A threshold by its place, and whether the comparison holds.
    Threshold(usize, bool),
    Cause(CauseId),
    Caution(CautionId),
}

/// Where a branch leads, in an order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) enum Way {
    Step(StepId),
    Tree(TreeId),
}

impl From<Led> for Way {
    fn from(led: Led) -> Self {
        match led {
            Led::Step(step) => Self::Step(step),
            Led::Tree(tree) => Self::Tree(tree),
        }
    }
}

impl Way {
    pub fn led(self) -> Led {
        match self {
            Self::Step(step) => Led::Step(step),
            Self::Tree(tree) => Led::Tree(tree),
        }
    }
}

impl Target {
    pub fn measure(self) -> Measure {
        match self {
            Self::Step(..) => Measure::Steps,
            Self::Branch(..) => Measure::Branches,
            Self::Finding(..) => Measure::Findings,
            Self::Threshold(..) => Measure::Thresholds,
            Self::Cause(_) => Measure::Causes,
            Self::Caution(_) => Measure::Cautions,
        }
    }
}

/// Something to reach, with its name.
#[derive(Clone, Debug)]
pub(in super::super) struct Named {
    pub target: Target,
    pub name: String,
    /// The entry that it belongs to, by section and id.
    pub owner: (Section, String),
    /// Of a threshold: what is compared, and where.
    pub compared: Option<Compared>,
}

impl Named {
    /// Of a comparison that steps alone look at: those steps.
    pub fn steps_looking(&self) -> Vec<(TreeId, StepId)> {
        let Some(Compared::Anything { places, .. }) = &self.compared else { return Vec::new() };
        let steps: Option<Vec<_>> = places.iter().map(|place| place.step()).collect();
        steps.unwrap_or_default()
    }
}

pub(super) fn named(target: Target, section: Section, owner: &str, name: String) -> Named {
    Named { target, name, owner: (section, owner.to_owned()), compared: None }
}

/// Everything that there is to reach, in the order of the handbook.
pub(super) fn every(handbook: &Handbook) -> Vec<Named> {
    let mut targets: Vec<Named> = each_step(handbook)
        .map(|(id, tree, step_id, step)| {
            let name = format!("{}.{}", tree.id, step.id);
            named(Target::Step(id, step_id), Section::Trees, &tree.id, name)
        })
        .collect();
    targets.extend(branches(handbook));
    targets.extend(findings(handbook));
    targets.extend(thresholds(handbook));
    let causes = handbook.cause_ids();
    targets.extend(causes.map(|id| {
        let name = &handbook.cause(id).id;
        named(Target::Cause(id), Section::Causes, name, name.clone())
    }));
    let cautions = (0..handbook.cautions().len()).map(CautionId::at);
    targets.extend(cautions.map(|id| {
        let name = &handbook.caution(id).id;
        named(Target::Caution(id), Section::Cautions, name, name.clone())
    }));
    targets
}

pub(super) fn each_step(
    handbook: &Handbook,
) -> impl Iterator<Item = (TreeId, &Tree, StepId, &Step)> {
    handbook.trees().iter().enumerate().flat_map(|(t, tree)| {
        let steps = tree.steps.iter().enumerate();
        steps.map(move |(s, step)| (TreeId::at(t), tree, StepId::at(s), step))
    })
}

/// Every way out of every step, each once: `tree.step -> step`.
fn branches(handbook: &Handbook) -> Vec<Named> {
    let mut found = Vec::new();
    for (id, tree, step_id, step) in each_step(handbook) {
        let mut seen = BTreeSet::new();
        let bound = step.bound.map(|(_, then)| Led::Step(then));
        for led in step.next.targets().into_iter().chain(bound) {
            let way = Way::from(led);
            if seen.insert(way) {
                let to = match way {
                    Way::Step(to) => tree.step(to).id.clone(),
                    Way::Tree(to) => format!("tree {}", handbook.tree(to).id),
                };
                let target = Target::Branch(id, step_id, way);
                let name = format!("{}.{} -> {to}", tree.id, step.id);
                found.push(named(target, Section::Trees, &tree.id, name));
            }
        }
    }
    found
}

/// Every outcome of every finding: `finding is true`.
fn findings(handbook: &Handbook) -> Vec<Named> {
    let of_finding = |(place, finding): (usize, &Finding)| {
        let outcomes = 0..finding.outcomes() as u16;
        let name = |outcome: u16| format!("{} is {}", finding.id, word(handbook, finding, outcome));
        let target = |o| Target::Finding(place, o);
        outcomes
            .map(|o| named(target(o), Section::Findings, &finding.id, name(o)))
            .collect::<Vec<_>>()
    };
    handbook.findings().iter().enumerate().flat_map(of_finding).collect()
}

fn word(handbook: &Handbook, finding: &Finding, outcome: u16) -> String {
    match finding.observes {
        Observes::When(_) => ["false", "true"][usize::from(outcome)].to_owned(),
        Observes::Of(question) => {
            handbook.question(question).choices[usize::from(outcome)].id.clone()
        }
    }
}
