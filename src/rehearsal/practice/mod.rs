//! Practice: a trainee at a simulated rig with a hidden fault, and what is said of it afterwards.
//!
//! [`deal`] draws a rig for a [`Level`] and a seed; an [`Exercise`] does one [`Act`] after another
//! at it and tells what comes of each; its way is kept in
//! legs, each with what it was worth when it was made. Nothing here waits: the clock
//! is the rig's. No terminal, no file.

mod act;
mod caution;
mod dealing;
mod doing;
mod exercise;
mod grammar;
mod looking;
mod mending;
mod nitrogen;
mod noting;
mod operations;
mod rises;
mod step;
mod story;
mod stretch;
mod watching;

pub use act::{Act, AtJoints, Changed, Section, Spot};
pub use caution::{Precaution, precaution};
pub use dealing::{Dealt, Level, NothingDealt, deal};
pub use exercise::{Exercise, Ground, Told, Unsafe};
pub use grammar::{Argument, Asked, Misread, Slot, read_act};
pub use operations::{Group, Operation, operations};
pub use step::Step;
pub use stretch::{Leg, LegKind, TestOf};
