//! Rigs drawn at random from ranges, the assistant played against each, and what came of it.
//!
//! [`Ranges`] are read from a file and checked against a handbook; [`draw`] makes one rig of a
//! seed and a number, whatever was drawn before; [`Score`] keeps what a play came to; [`Tally`]
//! adds scores up.

mod drawing;
mod interval;
mod ranges;
mod score;
mod tally;

pub use drawing::{Drawn, draw};
pub use interval::{Interval, bootstrap};
pub use ranges::{RIG_RANGES, Ranges, Unknown};
pub use score::{Score, groups};
pub use tally::{Calibrated, Share, Tally};
