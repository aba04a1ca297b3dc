//! A step of an exercise as it is told and kept.

use serde::{Deserialize, Serialize};

/// Something that was done, or refused.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Step {
    /// When it was done, in minutes since the beginning.
    pub minutes: f64,
    /// What.
    pub did: String,
    /// Whether it was refused.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub refused: bool,
    /// What came of it.
    pub shown: String,
}

impl Step {
    /// What was done and what came of it.
    #[must_use]
    pub fn in_words(&self) -> String {
        format!("{}. {}", self.did, self.shown)
    }
}
