//! Where a case stands: the one thing that is wanted next.

use crate::handbook::{ActionId, CautionId, Closes, QuestionId, StepId, Target, TreeId};
use crate::text::Line;

/// A step of a tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Place {
    /// The tree.
    pub tree: TreeId,
    /// The step.
    pub step: StepId,
}

/// Where a step led, and what was known then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Decided {
    /// The step.
    pub place: Place,
    /// Where it led.
    pub target: Target,
    /// Whether it led there because it may not be run once more.
    pub is_by_bound: bool,
    /// Everything before this place in the order of the events was known.
    pub known_until: usize,
    /// How many steps had been passed.
    pub passed: usize,
}

/// What is wanted next.
#[derive(Clone, Debug, PartialEq)]
pub enum Now {
    /// Somebody must acknowledge a caution before anything else.
    Acknowledge {
        /// The caution.
        caution: CautionId,
        /// Where it bites.
        place: Option<Place>,
    },
    /// A question is asked.
    Ask {
        /// The question.
        question: QuestionId,
        /// Where.
        place: Place,
        /// How often this case has asked it before.
        asked_before: usize,
        /// The answer that was taken back and whose place in the order the new one takes, since
        /// something was done after it.
        in_place_of: Option<usize>,
        /// Whether it names what a round is about, so that "no more" ends the rounds.
        names_a_round: bool,
    },
    /// Something is to be done.
    Do {
        /// What.
        text: Line,
        /// How long to wait afterwards, in seconds.
        wait: Option<f64>,
        /// Where.
        place: Place,
    },
    /// An action is to be done.
    Act {
        /// The action.
        action: ActionId,
        /// Where.
        place: Place,
    },
    /// The tree is done.
    Ended {
        /// What has been done.
        done: Line,
        /// Trees to offer next.
        then: Vec<TreeId>,
        /// What this end says of the work, if anything.
        closes: Option<Closes>,
    },
    /// The work must not go on.
    Stopped {
        /// What to do, or to leave.
        text: Line,
        /// Why.
        why: Option<Line>,
        /// Whom to refer to.
        refer: Line,
        /// Where.
        place: Place,
    },
}

/// A round that has come to its end.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundEnd {
    /// The place of the answer that named the round.
    pub from: usize,
    /// The place of the last event that belongs to it.
    pub until: usize,
    /// The place at which it was left, where an action was passed over in it.
    pub left_at: Option<usize>,
    /// What has been done in it.
    pub done: Line,
}

/// How a step was passed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passage {
    /// By the event at this place in the order.
    Event(usize),
    /// Its answer was known already, from this place in the order.
    Known(usize),
    /// It led on by itself; of a question, since the reading that it asks about was not made.
    Through,
}

/// A step that has been passed, with how.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Passed {
    /// The step.
    pub place: Place,
    /// How.
    pub passage: Passage,
}
