//! Findings: what the answers show.

use serde::{Deserialize, Serialize};

use super::{ActionId, Basis, CauseId, FindingId, QuestionId};
use crate::formula::{Checked, CheckedTemplate, Symbol};

/// What a finding looks at.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum Observes {
    /// A yes or no computed from answers.
    When(Checked),
    /// The choice given to a question, from normal to worst.
    Of(QuestionId),
}

/// A judgement that causes make likelier or not.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Finding {
    /// Its id.
    pub id: String,
    /// Its place in the table of names.
    pub symbol: Symbol,
    /// What it looks at.
    pub observes: Observes,
    /// What must be true for it to say anything.
    pub only_if: Option<Checked>,
    /// What it is in a few words: of a formula a clause that is so when it is true (`the pump alone
    /// stops too high`), of a choice what it is about (`the oil in the sight glass`).
    pub name: Option<String>,
    /// The clause that is so when it is false.
    pub name_not: Option<String>,
    /// The sentence for yes.
    pub so: Option<CheckedTemplate>,
    /// The sentence for no.
    pub so_not: Option<CheckedTemplate>,
    /// Whom to refer to at once where it may be true, or the worst choice was seen, for it is a
    /// matter of safety.
    pub refer: Option<CheckedTemplate>,
    /// Whether something is wrong where it is true, though it speaks of no cause.
    pub is_fault: bool,
    /// The shares of its outcomes with no fault at all; the first outcome is no, or normal.
    pub background: Vec<f64>,
    /// The shares of its outcomes with one cause alone, background included.
    pub shown_by: Vec<(CauseId, Vec<f64>)>,
    /// How often a cause hides it, so that it falls back to its first outcome.
    pub hidden_by: Vec<(CauseId, f64)>,
    /// Other findings off the same reading whose joint use the author has thought about.
    pub same_measurement: Vec<FindingId>,
    /// A coarser observation of the same thing, dropped once this one is known.
    pub replaces: Option<FindingId>,
    /// The readings that can't all be where it is true, in the order in which they are read again.
    pub read_again: Vec<QuestionId>,
    /// The actions that no step calls for while it is true.
    pub holds_back: Vec<ActionId>,
    /// Where its numbers come from.
    pub basis: Basis,
}

impl Finding {
    /// How many outcomes it has: two for a yes or no, else the number of choices.
    #[must_use]
    pub fn outcomes(&self) -> usize {
        self.background.len()
    }
}
