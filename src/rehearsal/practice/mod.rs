//! Practice: a trainee at a simulated rig with a hidden fault, and what is said of it afterwards.
//!
//! [`deal`] draws a rig for a [`Level`] and a seed; an [`Exercise`] does one [`Act`] after another
//! at it and tells what comes of each; naming what is wrong ends it, and [`Debrief`] holds the way
//! against what was hidden and against the assistant at the same rig. Nothing here waits: the clock
//! is the rig's. No terminal, no file.

mod act;
mod assistant;
mod caution;
mod dealing;
mod debrief;
mod doing;
mod evacuated;
mod exercise;
mod grammar;
mod hidden;
mod leading;
mod looking;
mod mending;
mod mistake;
mod naming;
mod nitrogen;
mod noting;
mod operations;
mod record;
mod refusing;
mod rises;
mod step;
mod story;
mod stretch;
mod watching;

pub use act::{Act, AtJoints, Changed, Section, Spot};
pub use assistant::{Assisted, Leg as AssistantLeg, assisted};
pub use caution::{Precaution, precaution};
pub use dealing::{Dealt, Level, NothingDealt, deal};
pub use debrief::{Debrief, LeadWas, debrief};
pub use exercise::{Exercise, Ground, Told};
pub use grammar::{Argument, Asked, Misread, Slot, read_act};
pub use hidden::told_fault;
pub use mistake::{Mistake, dearest};
pub use naming::{Judged, Named, judged};
pub use operations::{Group, Operation, operations};
pub use record::{Outcome, RECORD_FORMAT, RECORD_VERSION, Record, Tested, UnsafeStep};
pub use refusing::Unsafe;
pub use step::Step;
pub use stretch::{Leg, LegKind, TestOf};
