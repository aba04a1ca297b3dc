//! Rigs drawn at random from ranges, the assistant played against each, and what came of it.
//!
//! [`Ranges`] are read from a file and checked against a handbook; [`draw`] makes one rig of a
//! seed and a number, whatever was drawn before; [`Score`] keeps what a play came to; [`Tally`]
//! adds scores up; [`fitted`] holds what the findings came to against the handbook's shares.

mod drawing;
mod fit;
mod interval;
mod ranges;
mod score;
mod showing;
mod shown;
mod tally;

pub use drawing::{Drawn, draw};
pub use fit::{Fitted, LEAST_PLAYS, Unspoken, fitted, unspoken};
pub use interval::{Interval, bootstrap};
pub use ranges::{RIG_RANGES, Ranges, Unknown};
pub use score::{OIL_IS_WET_FROM, Score, groups};
pub use shown::Shown;
pub use tally::{Calibrated, Share, Tally};
