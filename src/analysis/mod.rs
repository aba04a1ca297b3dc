//! Which answers lead where, worked out without running a case.
//!
//! Every question is cut into cells where some condition turns: the points themselves and what
//! lies between. [`Analysis::of`] carries sets of cells along the ways through each tree. A step
//! or branch that no cell comes to is proved to be out of reach; for the others
//! [`Analysis::witness_for`] looks for answers that lead there.
//!
//! What the proofs suppose: a question is answered when it is first asked or before the tree
//! begins, and anew only where a step asks `again`; a reading is taken within its range. Doubt is
//! allowed for: a condition may be too close to call wherever one reading could lie on either
//! side of it.
//!
//! Not here: whether a handbook can run (`handbook` checks that), and what a case concludes.
//! Imports `handbook`, `document`, `formula`, `quantity`, `source`, `diagnostic` and `text`.

mod advice;
mod branch;
mod cells;
mod conditions;
mod dead_ends;
mod draft;
mod effort;
mod evaluate;
mod explored;
mod graph;
mod history;
mod interval;
mod journey;
mod layout;
mod moment;
mod narrow;
mod reach;
mod region;
mod route;
mod said;
mod search;
mod slot;
mod solving;
mod sweep;
mod thresholds;
mod truths;
mod witness;

pub use advice::advise;
pub use branch::{Branch, branches_of, target_of};
pub use dead_ends::DeadEnds;
pub use effort::Effort;
pub use reach::Analysis;
pub use said::usual_answers;
pub use witness::{Answering, EVALUATIONS_A_GOAL, Found, Goal, Stuck, Witness};
