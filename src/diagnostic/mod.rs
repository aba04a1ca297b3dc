//! An author-facing fault as a value: what, where, both sides, why, and a sure mend.
//!
//! Stages make [`Diagnostic`]s; only [`render`] turns them into text, and only a command prints
//! that. Every fault has a [`Code`] with a line in the registry, a page in `docs/errors/` and a
//! fixture. Imports `source` and `text`.

mod code;
mod excess;
mod render;
mod report;

pub use crate::text::near_name;
pub use code::{CODES, Code, Severity};
pub use render::{Look, is_cut_short, render};
pub use report::{Diagnostic, Label, sort_in_file_order};
