//! YAML with spans, and the handbook as it is written.
//!
//! [`read_yaml`] turns one file into a tree of [`Node`]s that know where they stand, down to a
//! character inside a folded text. [`MapReader`] takes such a tree apart and collects every
//! fault on the way. [`raw`] holds what the files of a handbook, a scenario or an answers file
//! say, field by field.
//!
//! Not here: what the texts mean. Formulas, quantities and prose stay [`Scalar`]s, names stay
//! names; whether a name leads anywhere is for the handbook's own stages.
//!
//! ```
//! use dryhold::document::read_yaml;
//! use dryhold::source::Sources;
//! let mut sources = Sources::default();
//! let id = sources.add("a.yaml", "end: Oil: dry and warm\n");
//! let (_, faults) = read_yaml(&sources, id);
//! assert_eq!(faults[0].code.number(), "H105");
//! ```
//!
//! Imports `source`, `diagnostic` and `text`.

mod bound;
mod decode;
mod node;
mod passed_over;
pub mod prepared;
mod quote;
pub mod raw;
mod reader;
mod scalar;
mod shape;
mod yaml;

pub use bound::bound;
pub use decode::decode;
pub use node::{Entry, Key, Node, NodeValue, Spanned};
pub use passed_over::{is_yaml, passed_over};
pub use reader::MapReader;
pub use scalar::{Scalar, Style};
pub use shape::{is_id, means_not_sure, nearest_id, read_id, read_ids, read_text, read_texts};
pub use yaml::{MAX_DEPTH, MAX_FILE_BYTES, MAX_TEXT_CHARACTERS, read_yaml};
