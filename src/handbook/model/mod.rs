//! A checked handbook, one file per section.
//!
//! Everything here is resolved: ids are places in tables, formulas are checked, numbers are in SI
//! units. The types can be read by everybody and built only by the checker of this room, or unpacked from
//! what it built.

mod action;
mod cause;
mod caution;
mod disputed;
mod finding;
mod handbook;
mod ids;
mod question;
mod tested;
mod tree;

pub use action::Action;
pub use cause::{Cause, History};
pub use caution::{Caution, CautionSeverity, Reference};
pub use finding::{Finding, Observes};
pub(in crate::handbook) use handbook::Parts;
pub use handbook::{Entry, Handbook, OutdatedBy};
pub use ids::{
    ActionId, CauseId, CautionId, FindingId, FormulaId, InstrumentId, QuestionId, ReferenceId,
    StepId, TreeId,
};
pub use question::{Basis, Choice, Formula, Hazard, InWords, Instrument, Question, find_choice};
pub use tree::{Closes, Next, Rule, Step, StepKind, Target, Tree};
