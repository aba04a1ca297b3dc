//! Causes: the faults that are weighed.

use serde::{Deserialize, Serialize};

use super::{ActionId, Basis, CauseId, CautionId};
use crate::formula::{CheckedTemplate, Symbol};

/// Something in the past that makes a cause likelier or less likely.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct History {
    /// The yes/no question or formula.
    pub when: Symbol,
    /// What a yes multiplies the odds by; below 1 for `less_if`.
    pub factor: f64,
}

/// A fault.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Cause {
    /// Its id.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// The same in the fewest words that fit into a sentence; the name if the author wrote none.
    pub in_short: String,
    /// Causes of one group call for the same next action; its own id if the author named none.
    pub group: String,
    /// How often it is there before any symptom, 0 to 1.
    pub how_common: f64,
    /// What multiplies its odds.
    pub history: Vec<History>,
    /// The causes it brings, and how often.
    pub brings: Vec<(CauseId, f64)>,
    /// The mechanism, for people.
    pub because: CheckedTemplate,
    /// What mends it, in the order to try.
    pub fix: Vec<ActionId>,
    /// How often each action cures it.
    pub cured_by: Vec<(ActionId, f64)>,
    /// Cautions that go with it.
    pub cautions: Vec<CautionId>,
    /// Where its numbers come from.
    pub basis: Basis,
}
