//! A case as lines of JSON, so that another program can drive it.
//!
//! Every line out is one object that says by `is` what it is; every line in is one that says by `do`
//! what to do. After each line in comes what it changed and then what is wanted, so that a program
//! that reads up to the next `wanted` is never behind. It is the same interview as at a terminal: who
//! answers is a [`Program`]. No file that a line names is opened, since whoever typed it may be
//! somebody else than whoever runs the program. What a line in may say is `request`; what stands in
//! a line out is `wanted` and `told`.

mod program;
mod request;
mod told;
mod wanted;

pub use program::Program;
pub use told::{opened, verdict};
