//! The assistant against a simulated rig: somebody stands at it, does what is asked and told, and
//! types what there is to see.
//!
//! A [`RigAnswers`] says for each question, action and step of a handbook what is done at the rig;
//! [`Hand`] does it, with all that has to be done before; [`AtRig`] answers an interview so;
//! [`play`] runs one to its end.

mod answerer;
mod built_in;
mod deed;
mod doing;
mod fault;
mod hand;
mod hold;
mod kit;
mod knowing;
mod look;
mod looking;
mod mapping;
mod measuring;
mod played;
pub mod population;
mod pulling;
mod scenario;
mod typed;

pub use answerer::AtRig;
pub use built_in::{RIG_ANSWERS, add_rig_answers};
pub use deed::Deed;
pub use fault::{Fault, Making, Size};
pub use hand::Hand;
pub use kit::{FACES, Face, Kit, Past, Slips};
pub use look::{Gives, Look};
pub use mapping::{Acting, Answering, RigAnswers};
pub use played::{Played, play};
pub use scenario::RiggedScenario;
pub(super) use scenario::rigged_scenario;
pub use typed::{Said, pressure, rounded};
