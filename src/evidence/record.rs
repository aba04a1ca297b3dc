//! What has been answered and done, in the order in which it happened.

use serde::{Deserialize, Serialize};

use crate::handbook::{ActionId, QuestionId, TreeId};

/// Whether a reading is the value itself or only a bound, because a gauge was off its scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reach {
    /// The value was read.
    Exact,
    /// The value is larger than what was read.
    Over,
    /// The value is smaller than what was read.
    Under,
}

/// An answer as the engine takes it. Quantities are in SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reply {
    /// A number with a dimension.
    Quantity {
        /// The value, or the bound, in SI units.
        si: f64,
        /// How far it may be off by the person's own word, in SI units.
        half_width: Option<f64>,
        /// Whether it is the value or a bound.
        reach: Reach,
    },
    /// Yes or no.
    YesNo(bool),
    /// The id of the choice.
    Choice(String),
    /// The ids of the choices named.
    Choices(Vec<String>),
    /// Words.
    Text(String),
    /// A day, as in ISO 8601.
    Date(String),
    /// The readings of a hold, in the order of time.
    Readings {
        /// Seconds since the first; they rise.
        times: Vec<f64>,
        /// Pressures in Pa, one for each time.
        pressures: Vec<f64>,
        /// The step of the display in Pa, where the readings show one.
        resolution: Option<f64>,
    },
    /// Asked, and not known.
    NotSure,
    /// Passed over.
    Skipped,
}

impl Reply {
    /// Whether it says something about the case.
    #[must_use]
    pub fn is_known(&self) -> bool {
        !matches!(self, Self::NotSure | Self::Skipped)
    }
}

/// One answer at its place in the case.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// The question.
    pub question: QuestionId,
    /// The answer.
    pub reply: Reply,
    /// The answer as it was typed.
    pub typed: String,
    /// The unit that a number typed without one was taken in, where its instrument has a face.
    pub bare_in: Option<String>,
    /// Its place in the order of events; rises along the record.
    pub order: usize,
}

/// One round of a tree that runs in rounds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Round {
    /// The tree.
    pub tree: TreeId,
    /// The place of the answer that named the round.
    pub from: usize,
    /// The place at which the next round began; none while it is the last.
    pub until: Option<usize>,
}

/// The facts of a case.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// Answers, in order.
    pub given: Vec<Given>,
    /// Actions done, in order, with their places in the order of events.
    pub done: Vec<(ActionId, usize)>,
    /// Rounds begun, in order.
    pub rounds: Vec<Round>,
}

impl Record {
    /// The answers of a question in order, with how many came before each.
    pub fn answers(&self, question: QuestionId) -> impl Iterator<Item = (usize, &Given)> {
        self.given.iter().filter(move |given| given.question == question).enumerate()
    }

    /// Whether a question has an answer that says something.
    #[must_use]
    pub fn is_known(&self, question: QuestionId) -> bool {
        self.answers(question).any(|(_, given)| given.reply.is_known())
    }
}
