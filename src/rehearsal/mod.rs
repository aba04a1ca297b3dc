//! Rehearsals: scenarios with expected outcomes, run through the same interview as a person.
//!
//! A [`Scenario`] holds answers given beforehand and what they should lead to; [`rehearse`] runs
//! it and says in words how it came out; [`Coverage`] adds up which steps, branches and findings
//! the scenarios reached. Imports `case`, `evidence`, `handbook`, `document`, `diagnostic` and
//! `text`.

mod answers;
mod coverage;
mod expectation;
mod outcome;
mod scenario;

pub use answers::{GivenAnswers, Logs, no_logs, resolve_answers};
pub use coverage::Coverage;
pub use expectation::{Expectation, FindingWord};
pub use outcome::{Miss, Outcome, Rehearsed, rehearse};
pub use scenario::{Scenario, resolve_scenario};
