//! Reports of cases: the same facts in every form, and what a form promises of itself.

mod forms;
mod golden;
mod inert;
mod plain;

pub use forms::faults;
