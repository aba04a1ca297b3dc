//! Ways that could not be gone on with, so that nothing is tried along them again.

use std::cell::RefCell;

use super::route::{Event, Outcome};
use super::witness::Stuck;
use crate::handbook::{StepId, TreeId};

/// The ways that searches have tried without success. A search that is given those of others
/// passes over whatever begins alike.
#[derive(Debug, Default)]
pub struct DeadEnds(RefCell<Vec<DeadEnd>>);

#[derive(Clone, Debug)]
struct DeadEnd {
    /// The tree that is begun, and every event until the one that could not be.
    way: String,
    length: usize,
    /// Whether it was given up for having had its share of tries.
    was_cut: bool,
}

impl DeadEnds {
    /// Notes that a way can't be gone on with after some of its events.
    pub(super) fn note(&self, tree: TreeId, events: &[Event], was_cut: bool) {
        let end = DeadEnd { way: told(tree, events), length: events.len(), was_cut };
        self.0.borrow_mut().push(end);
    }

    /// How long a way can be gone for, and whether it was given up there; none where nothing is
    /// known against it.
    pub(super) fn on(&self, tree: TreeId, events: &[Event]) -> Option<(usize, bool)> {
        let way = told(tree, events);
        let ends = self.0.borrow();
        let end = ends.iter().find(|end| way.starts_with(&end.way))?;
        Some((end.length, end.was_cut))
    }
}

/// A condition that a way came to, and how it would have to come out.
pub(super) fn stuck(event: &Event) -> Option<Stuck> {
    let Event::Judge(at, outcome) = event else { return None };
    let wanted = match outcome {
        Outcome::Yes => "true",
        Outcome::No => "false",
        Outcome::TooClose => "too close",
        Outcome::Unknown => "not known",
    };
    Some(Stuck { tree: at.tree, step: StepId::at(at.step), rule: at.place, wanted })
}

fn told(tree: TreeId, events: &[Event]) -> String {
    let events: String = events.iter().map(|event| format!("{event:?};")).collect();
    format!("{tree:?};{events}")
}
