//! Rehearsals: scenarios with expected outcomes, run through the same interview as a person.
//!
//! A [`Scenario`] holds answers given beforehand and what they should lead to; [`rehearse`] runs
//! it and says in words how it came out; [`Coverage`] adds up what the scenarios reached, by each
//! [`Measure`]; [`rigged`] plays the assistant against a simulated rig, and
//! [`practice`] lets a trainee work at one. Imports `analysis`, `case`, `evidence`,
//! `bench`, `handbook`, `formula`, `document`, `diagnostic`, `source`, `quantity` and `text`.

mod answers;
mod because;
mod bless;
mod coverage;
mod ending;
mod expectation;
mod gap;
mod goals;
mod judging;
mod last_step;
mod outcome;
pub mod practice;
pub mod rigged;
mod scenario;
mod way_parted;

pub use answers::{GivenAnswers, Logs, no_logs, resolve_answers};
pub use bless::{Blessed, Change, bless};
pub use coverage::{Coverage, Measure, Measured, Reached};
pub use ending::{End, Parted, Renamed, ended_at, findings_parted, parted};
pub use expectation::{Expectation, ExpectedEnd, FindingWord, Stop};
pub use gap::{Filled, Filling, Lack, fill};
pub use judging::{finding_word, stop_of};
pub use outcome::{About, Miss, Outcome, Rehearsed, rehearse};
pub use scenario::{Scenario, resolve_scenario};
