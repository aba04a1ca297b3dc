//! Handbooks: from files as written to tables that can run.
//!
//! [`compile`] reads the files, finds every name, checks every formula, and runs the checks that
//! are needed to run at all; only it makes a [`Handbook`]. Everything that is wrong is reported in
//! one run. Imports `document`, `formula`, `quantity`, `source`, `diagnostic` and `text`.

mod advice;
mod checks;
mod citations;
mod compile;
mod difference;
mod follow_on;
mod graph;
mod leads;
mod look_back;
mod model;
mod names;
mod packed;
mod resolve;
mod schema;
mod strength;
mod written;

pub use advice::{advise, waive};
pub use checks::reserved_value;
pub use citations::{Citation, MARKS, citations};
pub use compile::{Compiled, compile, compile_around};
pub use difference::{Difference, KeyChange, Way, differences};
pub use leads::{Lead, leads};
pub use look_back::LookBack;
pub use model::{
    Action, ActionId, Basis, Cause, CauseId, Caution, CautionId, CautionSeverity, Choice, Closes,
    Entry, Finding, FindingId, Formula, FormulaId, Handbook, Hazard, History, InWords, Instrument,
    InstrumentId, Next, Observes, OutdatedBy, Question, QuestionId, Reference, ReferenceId, Rule,
    Step, StepId, StepKind, Target, Tree, TreeId, find_choice,
};
pub use schema::{SchemaOf, schema};
pub use strength::{STRENGTH_WORDS, nearest_word};
