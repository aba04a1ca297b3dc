//! What cases have passed, to be told on a drawing.

use std::collections::HashMap;

use super::graph::Mark;
use crate::case::{Case, Now, Place};
use crate::handbook::{StepId, Target, Tree, TreeId};
use crate::text::{list_and, plural};

/// What is told on a drawing besides the tree itself.
#[derive(Clone, Debug, Default)]
pub struct Marks {
    kind: Kind,
    /// For each step passed: in a case at which places of its path, else by how many cases.
    steps: HashMap<Place, Vec<usize>>,
    branches: HashMap<(Place, Target), usize>,
    here: Option<Place>,
    cases: usize,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Kind {
    #[default]
    Nothing,
    Path,
    Coverage,
}

impl Marks {
    /// Nothing but the tree.
    #[must_use]
    pub fn nothing() -> Self {
        Self::default()
    }

    /// The path of one case.
    #[must_use]
    pub fn path(case: &Case<'_>) -> Self {
        let mut marks = Self { kind: Kind::Path, here: here(case), ..Self::default() };
        for (order, passed) in case.path().iter().enumerate() {
            marks.steps.entry(passed.place).or_default().push(order + 1);
        }
        for (place, target) in case.branches() {
            *marks.branches.entry((*place, *target)).or_default() += 1;
        }
        marks
    }

    /// What scenarios have reached, before any is added.
    #[must_use]
    pub fn coverage() -> Self {
        Self { kind: Kind::Coverage, ..Self::default() }
    }

    /// Adds what one more case has reached.
    pub fn add(&mut self, case: &Case<'_>) {
        self.cases += 1;
        let places = case.path().iter().map(|passed| passed.place).chain(here(case));
        for place in places {
            let cases = self.steps.entry(place).or_default();
            if cases.last() != Some(&self.cases) {
                cases.push(self.cases);
            }
        }
        for (place, target) in case.branches() {
            *self.branches.entry((*place, *target)).or_default() += 1;
        }
    }

    /// How a step is stroked, and what that means.
    pub(super) fn of_step(&self, place: Place) -> (Mark, String) {
        let passed = self.steps.get(&place).map_or(&[][..], Vec::as_slice);
        let is_here = self.here == Some(place);
        match self.kind {
            Kind::Nothing => (Mark::Plain, String::new()),
            Kind::Path if is_here => (Mark::Thick, "the case stands here".to_owned()),
            Kind::Path if passed.is_empty() => (Mark::Plain, String::new()),
            Kind::Path => {
                let orders: Vec<String> = passed.iter().map(ToString::to_string).collect();
                (Mark::Thick, format!("passed: {}", list_and(&orders)))
            }
            Kind::Coverage => reached(passed.len(), "scenario"),
        }
    }

    /// How a line is stroked, and what is added to its label.
    pub(super) fn of_branch(&self, place: Place, target: Target) -> (Mark, String) {
        let taken = self.branches.get(&(place, target)).copied().unwrap_or(0);
        match self.kind {
            Kind::Nothing => (Mark::Plain, String::new()),
            Kind::Path if taken == 0 => (Mark::Plain, String::new()),
            Kind::Path => (Mark::Thick, "taken".to_owned()),
            Kind::Coverage if taken == 0 => (Mark::Dashed, "never taken".to_owned()),
            Kind::Coverage => (Mark::Thick, String::new()),
        }
    }

    /// How a whole tree is stroked, and what that means.
    pub(super) fn of_tree(&self, id: TreeId, tree: &Tree) -> (Mark, String) {
        let is_passed = |step: &usize| {
            let place = Place { tree: id, step: StepId::at(*step) };
            self.steps.contains_key(&place) || self.here == Some(place)
        };
        let passed = (0..tree.steps.len()).filter(is_passed).count();
        let of_all =
            format!("{passed} of {} {}", tree.steps.len(), plural(tree.steps.len(), "step"));
        match self.kind {
            Kind::Nothing => (Mark::Plain, String::new()),
            Kind::Path if passed == 0 => (Mark::Plain, String::new()),
            Kind::Path => (Mark::Thick, format!("passed: {of_all}")),
            Kind::Coverage if passed == 0 => (Mark::Dashed, "never reached".to_owned()),
            Kind::Coverage => (Mark::Thick, format!("reached: {of_all}")),
        }
    }

    /// Whether a case has been in a tree.
    #[must_use]
    pub fn has_been_in(&self, tree: TreeId) -> bool {
        self.steps.keys().chain(&self.here).any(|place| place.tree == tree)
    }

    /// What the strokes mean.
    pub(super) fn legend(&self) -> Vec<String> {
        match self.kind {
            Kind::Nothing => Vec::new(),
            Kind::Path => vec![
                "Thick: the case has passed it; the numbers are the places of its path.".to_owned(),
                "Thin: the case has not passed it.".to_owned(),
            ],
            Kind::Coverage => vec![
                format!("Thick: at least one of {} scenarios reached it.", self.cases),
                "Dashed: no scenario reached it.".to_owned(),
            ],
        }
    }
}

fn reached(cases: usize, noun: &str) -> (Mark, String) {
    match cases {
        0 => (Mark::Dashed, "never reached".to_owned()),
        cases => (Mark::Thick, format!("reached by {cases} {}", plural(cases, noun))),
    }
}

/// The step where a case stands.
fn here(case: &Case<'_>) -> Option<Place> {
    match case.now() {
        Now::Ask { place, .. }
        | Now::Do { place, .. }
        | Now::Act { place, .. }
        | Now::Stopped { place, .. } => Some(*place),
        Now::Acknowledge { place, .. } => *place,
        Now::Ended { .. } => None,
    }
}
