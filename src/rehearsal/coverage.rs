//! What scenarios have reached, measured: steps, branches, findings, thresholds, causes, cautions.

mod compared;
mod reached;
mod target;

use std::collections::BTreeSet;

pub(super) use compared::{Compared, LookedAt};
pub(super) use target::{Named, Target};

use crate::analysis::{Analysis, branches_of, target_of};
use crate::case::Case;
use crate::document::raw::Section;
use crate::handbook::Handbook;

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measure {
    /// Steps of trees that were come to.
    Steps,
    /// Ways out of a step that were taken.
    Branches,
    /// Outcomes of findings: true and false, or each choice.
    Findings,
    /// Both sides of each comparison in a condition of a finding or a branch, and in the yes or no
    /// formulas that one rests on.
    Thresholds,
    /// Causes that led a ranking.
    Causes,
    /// Cautions that were shown.
    Cautions,
}

impl Measure {
    /// Every measure, in the order in which they are told.
    pub const ALL: [Self; 6] = [
        Self::Steps,
        Self::Branches,
        Self::Findings,
        Self::Thresholds,
        Self::Causes,
        Self::Cautions,
    ];

    /// The word for it: `steps`, `branches` ...
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Steps => "steps",
            Self::Branches => "branches",
            Self::Findings => "findings",
            Self::Thresholds => "thresholds",
            Self::Causes => "causes",
            Self::Cautions => "cautions",
        }
    }

    /// The measure of this word.
    #[must_use]
    pub fn find(label: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|measure| measure.label() == label)
    }

    /// What no scenario did to so many of them: `1 step that no scenario reached`.
    #[must_use]
    pub fn missed(self, number: usize) -> String {
        let (one, several, what) = match self {
            Self::Steps => ("step", "steps", "that no scenario reached"),
            Self::Branches => ("branch", "branches", "that no scenario took"),
            Self::Findings => {
                ("outcome of findings", "outcomes of findings", "that no scenario had")
            }
            Self::Thresholds => {
                ("side of a threshold", "sides of thresholds", "that no scenario reached")
            }
            Self::Causes => ("cause", "causes", "that led in no scenario"),
            Self::Cautions => ("caution", "cautions", "that no scenario showed"),
        };
        format!("{number} {} {what}", if number == 1 { one } else { several })
    }
}

/// How far scenarios have come by one measure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measured {
    /// The measure.
    pub measure: Measure,
    /// How many were reached.
    pub covered: usize,
    /// How many there are.
    pub of: usize,
    /// Those that were not reached, by name, in the order of the handbook.
    pub missing: Vec<String>,
}

impl Measured {
    /// The share reached in percent, rounded down, so that 100 means all; 100 where there is
    /// nothing to reach.
    #[must_use]
    pub fn percent(&self) -> usize {
        (self.covered * 100).checked_div(self.of).unwrap_or(100)
    }

    /// Whether at least so many percent were reached, unrounded.
    #[must_use]
    pub fn is_at_least(&self, percent: f64) -> bool {
        self.covered as f64 * 100.0 >= percent * self.of as f64
    }
}

/// What cases have reached of a handbook, added up.
#[derive(Clone, Debug)]
pub struct Coverage {
    targets: Vec<Named>,
    reached: BTreeSet<Target>,
}

/// What one case has reached.
#[derive(Clone, Debug)]
pub struct Reached(Vec<Target>);

impl Coverage {
    /// Nothing reached yet.
    #[must_use]
    pub fn of(handbook: &Handbook) -> Self {
        Self { targets: target::every(handbook), reached: BTreeSet::new() }
    }

    /// Adds what a case reached, as it stands.
    pub fn add(&mut self, case: &Case<'_>) {
        self.count(self.reached_by(case));
    }

    /// Leaves out what belongs to other entries than these, by section and id, and gives how much
    /// that was.
    pub fn only_of(&mut self, entries: &BTreeSet<(Section, String)>) -> usize {
        let before = self.targets.len();
        self.targets.retain(|named| entries.contains(&named.owner));
        before - self.targets.len()
    }

    /// What a case reached, as it stands, to be counted later.
    #[must_use]
    pub fn reached_by(&self, case: &Case<'_>) -> Reached {
        Reached(reached::by(case, &self.targets))
    }

    /// Counts what a case reached.
    pub fn count(&mut self, reached: Reached) {
        self.reached.extend(reached.0);
    }

    /// Leaves out the steps and branches that no answers can reach, as far as that is proved, and
    /// the comparisons that only such steps look at.
    pub fn leave_out_of_reach(&mut self, handbook: &Handbook) {
        let is_of_a_step = |named: &Named| match named.target {
            Target::Step(..) | Target::Branch(..) => true,
            Target::Threshold(..) => !named.steps_looking().is_empty(),
            _ => false,
        };
        if !self.missing().iter().any(is_of_a_step) {
            return;
        }
        let analysis = Analysis::of(handbook);
        let reached = &self.reached;
        let stays =
            |named: &Named| reached.contains(&named.target) || !is_out_of_reach(&analysis, named);
        self.targets.retain(stays);
    }

    /// What no case has reached, in the order of the handbook.
    pub(super) fn missing(&self) -> Vec<Named> {
        let missing = self.targets.iter().filter(|named| !self.has(named.target));
        missing.cloned().collect()
    }

    /// Whether a case has reached this.
    pub(super) fn has(&self, target: Target) -> bool {
        self.reached.contains(&target)
    }

    /// Whether one case, as it stands, has reached one thing.
    pub(super) fn has_in(case: &Case<'_>, named: &Named) -> bool {
        reached::has(case, named)
    }

    /// How far the cases have come, by each measure.
    #[must_use]
    pub fn measured(&self) -> Vec<Measured> {
        let measured = |measure| {
            let of_measure = |named: &&Named| named.target.measure() == measure;
            let targets: Vec<&Named> = self.targets.iter().filter(of_measure).collect();
            let missing: Vec<String> = targets
                .iter()
                .filter(|named| !self.reached.contains(&named.target))
                .map(|named| named.name.clone())
                .collect();
            let of = targets.len();
            Measured { measure, covered: of - missing.len(), of, missing }
        };
        Measure::ALL.into_iter().map(measured).collect()
    }
}

/// Whether it is proved that no answers lead to a step, take a branch or come to where something
/// is compared.
fn is_out_of_reach(analysis: &Analysis<'_>, named: &Named) -> bool {
    match named.target {
        Target::Step(tree, step) => analysis.is_out_of_reach(tree, step),
        Target::Branch(tree, id, way) => {
            let step = analysis.handbook().tree(tree).step(id);
            let branches = branches_of(step).into_iter();
            let mut leading = branches.filter(|branch| target_of(step, *branch) == Some(way.led()));
            leading.all(|branch| analysis.is_never_taken(tree, id, branch))
        }
        Target::Threshold(..) => {
            let steps = named.steps_looking();
            !steps.is_empty() && steps.iter().all(|(t, s)| analysis.is_out_of_reach(*t, *s))
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measured(covered: usize, of: usize) -> Measured {
        Measured { measure: Measure::Steps, covered, of, missing: Vec::new() }
    }

    #[test]
    fn a_hundred_percent_means_all() {
        assert_eq!(measured(199, 200).percent(), 99);
        assert_eq!(measured(200, 200).percent(), 100);
        assert_eq!(measured(0, 0).percent(), 100);
    }

    #[test]
    fn a_share_is_compared_unrounded() {
        assert!(measured(1, 3).is_at_least(33.3) && !measured(1, 3).is_at_least(33.4));
        assert!(measured(0, 0).is_at_least(100.0));
        assert!(!measured(199, 200).is_at_least(99.6));
    }

    #[test]
    fn every_measure_is_found_by_its_word() {
        for measure in Measure::ALL {
            assert_eq!(Measure::find(measure.label()), Some(measure));
        }
        assert_eq!(Measure::find("step"), None);
    }
}
