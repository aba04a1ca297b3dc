//! What can happen in a case. A case is nothing but its events in order.

use serde::{Deserialize, Serialize};

use super::closing::Closing;
use super::details::Details;
use super::named_file::NamedFile;
use crate::evidence::Reply;

/// One thing that happened. Names are ids of the handbook that the case was opened with; `order`
/// and `answer` are places in the list of events, from 0.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum Event {
    /// The case was opened at a tree.
    Opened {
        /// The tree.
        tree: String,
        /// The hash of the handbook.
        handbook: String,
    },
    /// A question was answered, in turn or out of it.
    Answered {
        /// The question.
        question: String,
        /// The answer as it was typed.
        typed: String,
        /// The answer as it was taken.
        reply: Reply,
        /// The unit that a number typed without one was taken in, where the face that it is read
        /// from may show several.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bare_in: Option<String>,
    },
    /// An answer was put right; it keeps its place in the order.
    Corrected {
        /// The place of the answer.
        answer: usize,
        /// The right answer as it was typed.
        typed: String,
        /// The right answer as it was taken.
        reply: Reply,
        /// As for `Answered`.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bare_in: Option<String>,
    },
    /// An answer or a deed was taken back, as if it had never been given.
    TakenBack {
        /// The place of what was taken back.
        order: usize,
    },
    /// A step that says what to do was done.
    Did {
        /// The tree.
        tree: String,
        /// The step.
        step: String,
    },
    /// The wait of a step began once what it says was done; the step is not passed yet.
    Waited {
        /// The tree.
        tree: String,
        /// The step.
        step: String,
        /// How long the wait is, in seconds.
        seconds: f64,
    },
    /// A step or an action was passed over without being done.
    Skipped {
        /// The tree.
        tree: String,
        /// The step.
        step: String,
    },
    /// An action was done.
    Acted {
        /// The action.
        action: String,
        /// The tree.
        tree: String,
        /// The step; empty where it was told out of turn.
        step: String,
    },
    /// There is nothing left to run a round about.
    RoundsEnded {
        /// The tree that runs in rounds.
        tree: String,
    },
    /// A tree was taken up after another had ended.
    WentOn {
        /// The tree.
        tree: String,
    },
    /// A caution was acknowledged.
    Acknowledged {
        /// The caution.
        caution: String,
        /// Who did.
        by: String,
    },
    /// What the stop of a danger asks for was acknowledged, once the danger was taken back.
    Minded {
        /// The question of the danger.
        question: String,
        /// Who did.
        by: String,
    },
    /// A note was made.
    Noted {
        /// The note.
        text: String,
    },
    /// A photo or another file goes with the case.
    Attached {
        /// The file.
        #[serde(flatten)]
        file: NamedFile,
    },
    /// Something was told of the job that no question asks for.
    Described {
        /// What was told; the rest stays as it was.
        details: Details,
    },
    /// The questions are worded for the phone from here on, or for somebody on site again.
    Worded {
        /// Whether it is for the phone.
        for_phone: bool,
    },
    /// The case was closed.
    Closed {
        /// How.
        #[serde(flatten)]
        closing: Closing,
    },
    /// A closed case was opened again.
    Reopened,
    /// Something that a later version of the program wrote and this one does not know. It keeps
    /// its place in the order and has no effect.
    #[serde(other)]
    Unknown,
}

impl Event {
    /// Whether the questions of a case were worded for the phone last.
    pub fn were_for_the_phone<'e>(events: impl IntoIterator<Item = &'e Self>) -> bool {
        let worded = events.into_iter().filter_map(|event| match event {
            Self::Worded { for_phone } => Some(*for_phone),
            _ => None,
        });
        worded.last().unwrap_or(false)
    }
}
