//! The formula language: text to tokens to tree to checked tree to values over draws.
//!
//! Only a [checked](Checked) formula can be evaluated. There are no loops, no recursion and no
//! input or output, and size and depth are bounded. Imports `quantity`, `source`, `diagnostic`
//! and `text`; what a name stands for is asked of [`Names`] while checking and of [`Facts`]
//! while evaluating.

mod draws;
mod facts;
mod kind;
mod value;

pub use draws::{DRAWS, Draws, stream};
pub use facts::{Facts, NameInfo, Names, Referent, Symbol};
pub use kind::{ChoiceSet, Kind};
pub use value::{Truth, Unknown, Value, Verdict, verdict};
