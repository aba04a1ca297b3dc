//! What a scenario expects.

use crate::case::Place;
use crate::evidence::FindingState;
use crate::evidence::wording::Band;
use crate::handbook::{CauseId, CautionId, FindingId, QuestionId};

/// How a finding should stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FindingWord {
    /// True.
    True,
    /// False.
    False,
    /// Too close to tell.
    TooClose,
    /// Not applicable.
    NotApplicable,
    /// Not known.
    Unknown,
    /// This choice, by its place and id, was seen.
    Choice(u16, String),
}

impl FindingWord {
    /// Whether a state is the one expected.
    #[must_use]
    pub fn fits(&self, state: &FindingState) -> bool {
        match (self, state) {
            (Self::True, FindingState::True(_))
            | (Self::False, FindingState::False(_))
            | (Self::TooClose, FindingState::TooClose(_))
            | (Self::NotApplicable, FindingState::NotApplicable)
            | (Self::Unknown, FindingState::Unknown) => true,
            (Self::Choice(wanted, _), FindingState::Seen(seen)) => wanted == seen,
            _ => false,
        }
    }

    /// The word in a scenario.
    #[must_use]
    pub fn label(&self) -> &str {
        match self {
            Self::True => "true",
            Self::False => "false",
            Self::TooClose => "too close",
            Self::NotApplicable => "not applicable",
            Self::Unknown => "unknown",
            Self::Choice(_, id) => id,
        }
    }
}

/// What should come out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Expectation {
    /// Whether the case should be settled.
    pub settled: Option<bool>,
    /// How likely causes should be; none stands for "nothing wrong".
    pub ranking: Vec<(Option<CauseId>, Band)>,
    /// How findings should stand.
    pub findings: Vec<(FindingId, FindingWord)>,
    /// Questions that the best next checks should ask, in any order; empty if it should be
    /// settled or nothing should be left to check.
    pub next: Option<Vec<QuestionId>>,
    /// The step at which it should end.
    pub end: Option<ExpectedEnd>,
    /// What should stop the work.
    pub stopped: Option<Stop>,
}

/// The step at which a scenario should end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ExpectedEnd {
    /// The step.
    pub place: Place,
    /// Whether its tree is written before it.
    pub names_tree: bool,
}

/// A stop that a scenario expects.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stop {
    /// The work should not be stopped.
    Nothing,
    /// The work should be stopped, by whatever it is.
    Anything,
    /// A caution that nobody acknowledged.
    Caution(CautionId),
    /// A stop step of this id, in any tree.
    Step(String),
}
