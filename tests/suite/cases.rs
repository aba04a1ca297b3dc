//! Cases: the path, replay, taking back, cautions, rounds.

mod acting;
mod evidence;
pub mod handbooks;
mod insight;
mod path;
mod proof;
mod random;
mod readings;
mod replay;
mod wording;
