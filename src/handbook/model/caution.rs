//! Cautions and sources.

use serde::{Deserialize, Serialize};

use crate::formula::{Checked, CheckedTemplate};

/// How grave a caution is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum CautionSeverity {
    /// Good to know.
    Note,
    /// Someone can be hurt or something ruined.
    Caution,
    /// Nothing goes on before somebody has acknowledged it.
    Stop,
}

impl CautionSeverity {
    /// All of them, the gravest first.
    pub const ALL: [Self; 3] = [Self::Stop, Self::Caution, Self::Note];

    /// The word by which rules and programs name it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Caution => "caution",
            Self::Stop => "stop",
        }
    }
}

/// A warning that belongs to a question, a step, an action or a cause.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Caution {
    /// Its id.
    pub id: String,
    /// How grave it is.
    pub severity: CautionSeverity,
    /// It is left out where this is known not to hold; never of a stop.
    pub only_if: Option<Checked>,
    /// The warning.
    pub text: CheckedTemplate,
    /// Whom to refer to.
    pub refer: Option<CheckedTemplate>,
}

/// A published source.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reference {
    /// Its id.
    pub id: String,
    /// What it is called.
    pub title: String,
    /// Who published it.
    pub by: Option<String>,
    /// When.
    pub year: Option<String>,
    /// Where in it, or where it is to be had.
    pub place: Option<String>,
}
