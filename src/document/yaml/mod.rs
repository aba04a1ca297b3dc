//! From the text of a YAML file to a tree of nodes that know their places.
//!
//! Handbooks use a small part of YAML: maps, lists and texts. What they don't use (anchors,
//! aliases, tags, several documents) is refused, and the slips that YAML itself passes over in
//! silence are named with the text that would be lost. Where the mend of a syntax fault is
//! plain, reading goes on behind it, so that one run shows all faults of a file.

mod build;
mod curly;
mod layout;
mod leaf;
mod lines;
mod mend;
mod misplaced;
mod offsets;
mod read;
mod screen;
mod silent;
mod stopped;
mod syntax;
mod unspaced;

pub(super) use misplaced::edge_fault;
pub use read::{MAX_DEPTH, MAX_FILE_BYTES, MAX_TEXT_CHARACTERS, read_yaml};
