//! What a rehearsal came to, before it is written in one format or another.

use super::floor::Floor;
use super::reading::Read;
use crate::rehearsal::{Measured, Miss, Outcome, Rehearsed, ended_at};

/// One scenario as it came out.
pub(super) struct Tried {
    pub file: String,
    pub name: String,
    /// The tree that it runs.
    pub tree: String,
    pub outcome: Outcome,
    pub misses: Vec<Miss>,
    /// What whoever wrote it may not have meant.
    pub remarks: Vec<String>,
    /// The step at which it ended: `tree.step`.
    pub end: String,
    /// Whether the case came to be settled.
    pub settled: bool,
}

impl Tried {
    pub fn of(read: &Read, rehearsed: &Rehearsed<'_>) -> Self {
        let (case, scenario) = (&rehearsed.case, &read.scenario);
        Self {
            file: read.file.clone(),
            name: scenario.name.clone(),
            tree: case.tree_view(scenario.tree).0.to_owned(),
            outcome: rehearsed.outcome,
            misses: rehearsed.misses.clone(),
            remarks: rehearsed.remarks.clone(),
            end: ended_at(case),
            settled: case.assessment().settled,
        }
    }
}

/// The whole rehearsal.
pub(super) struct Told {
    pub tried: Vec<Tried>,
    pub measured: Vec<Measured>,
    /// How many steps, branches and so on of the built-in handbook were not measured.
    pub passed_over: usize,
    /// The coverage that is below what was asked for, in words.
    pub below: Vec<String>,
}

impl Told {
    pub fn of(
        tried: Vec<Tried>,
        measured: Vec<Measured>,
        passed_over: usize,
        floors: &[Floor],
    ) -> Self {
        let below = floors.iter().flat_map(|floor| floor.short(&measured)).collect();
        Self { tried, measured, passed_over, below }
    }

    pub fn count(&self, is_meant: impl Fn(Outcome) -> bool) -> usize {
        self.tried.iter().filter(|tried| is_meant(tried.outcome)).count()
    }

    pub fn fell_short(&self) -> usize {
        self.count(Outcome::is_short)
    }

    pub fn not_judged(&self) -> usize {
        self.count(|outcome| outcome == Outcome::NotJudged)
    }

    /// Whether every scenario came out as expected, and enough was reached.
    pub fn is_enough(&self) -> bool {
        self.fell_short() == 0 && self.below.is_empty()
    }
}
