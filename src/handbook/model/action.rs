//! Actions: what a person does to the rig or the system.

use serde::{Deserialize, Serialize};

use super::{CautionId, QuestionId};
use crate::formula::{Checked, CheckedTemplate};

/// Something to do that changes what is there.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Action {
    /// Its id.
    pub id: String,
    /// What to do.
    pub instruction: CheckedTemplate,
    /// How long it takes, in seconds.
    pub takes: Option<f64>,
    /// What has to be at hand.
    pub parts: Vec<String>,
    /// Conditions that must hold before.
    pub needs: Vec<String>,
    /// Conditions that hold afterwards.
    pub leaves: Vec<String>,
    /// Conditions that hold no longer afterwards.
    pub ends: Vec<String>,
    /// Questions whose answers from before it tell of something else than what is there now.
    pub outdates: Vec<QuestionId>,
    /// What is said of it afterwards, within a sentence: `the oil was changed`.
    pub once_done: Option<String>,
    /// What people say who have done it: `changed the oil`.
    pub told_as: Vec<String>,
    /// A yes or no that shows that it is done already, so that it is no repair to try.
    pub done_if: Option<Checked>,
    /// A yes or no that shows that what is wrong doesn't sit where it works.
    pub not_if: Option<Checked>,
    /// Whether it can hurt someone, so that it is left to a licensed person.
    pub is_hazardous: bool,
    /// Cautions shown wherever it is proposed.
    pub cautions: Vec<CautionId>,
}

impl Action {
    /// What is said of it while it stands open, behind "not done yet": `nobody has said that the
    /// oil was changed`.
    #[must_use]
    pub fn not_done_yet(&self) -> String {
        match &self.once_done {
            Some(done) => format!("nobody has said that {done}"),
            None => format!("`{}` was passed over", self.id),
        }
    }
}
