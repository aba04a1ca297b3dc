//! The files of a handbook, a scenario or an answers file, as they are written.
//!
//! One file per section of the handbook. Every name and text keeps its place; nothing is
//! resolved, so a name may lead nowhere and a formula may be nonsense. A field that must be
//! written is still an `Option` here: it is `None` only where a fault has been reported, so a
//! later stage passes over it in silence.
//!
//! ```
//! use dryhold::document::raw::read_handbook;
//! use dryhold::source::Sources;
//! let mut sources = Sources::default();
//! let file = sources.add("handbook.yaml", "format: 1\nname: Barrel\nversion: 1\n");
//! let (handbook, faults) = read_handbook(&sources, &[file], &[]);
//! assert!(faults.is_empty());
//! assert_eq!(handbook.name.unwrap().text, "Barrel");
//! ```
//!
//! Imports the rest of `document`, `source`, `diagnostic` and `text`.

mod action;
mod basis;
mod cause;
mod caution;
mod columns;
mod edge;
mod entry;
mod finding;
mod formula;
mod handbook;
mod instrument;
mod keys;
mod merge;
mod question;
mod rig_answers;
mod rig_ranges;
mod route;
mod scenario;
mod section;
mod source;
mod step;
mod strength;
mod tree;
mod waiver;

pub use action::RawAction;
pub use basis::RawBasis;
pub use cause::RawCause;
pub use caution::RawCaution;
pub use entry::{RawEntry, has_basis};
pub use finding::{RawFinding, RawTest};
pub use formula::RawFormula;
pub use handbook::{RawHandbook, read_handbook, read_part};
pub use instrument::RawInstrument;
pub use keys::{
    ACTION_KEYS, ANSWERS_KEYS, BASIS_KEYS, BRANCH_KEYS, CAUSE_KEYS, CAUTION_KEYS, DOUBT_KEYS,
    ENTRY_KEYS, EXPECTATION_KEYS, FILE_KEYS, FINDING_KEYS, FORMULA_KEYS, Holds, INSTRUMENT_KEYS,
    Key, QUESTION_KEYS, RIG_KEYS, SCENARIO_KEYS, SOURCE_KEYS, STEP_KEYS, STEP_KINDS, TARGET_KEYS,
    TREE_KEYS, Words,
};
pub use question::{RawChoice, RawQuestion};
pub use rig_answers::{RawRigAnswers, RawWay, read_rig_answers};
pub use rig_ranges::{RawDrawn, RawRigRanges, RawTexts, read_rig_ranges};
pub use route::{RawBranch, RawBranches, RawNext, RawTarget};
pub use scenario::{
    RawExpectation, RawRig, RawScenario, read_answers, read_answers_or_scenario, read_scenario,
};
pub use section::Section;
pub use source::RawSource;
pub use step::{RawStep, RawWork};
pub use strength::{RawLikelihood, RawStrength};
pub use tree::RawTree;
pub use waiver::RawWaiver;
