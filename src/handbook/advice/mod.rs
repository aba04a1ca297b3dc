//! Advice on a handbook that runs, one file a question: what its author would want to know before
//! others use it. It is worked out by `dryhold check` alone; no start waits for it.

mod cautions;
mod evidence;
mod idle_names;
mod texts;
mod unoffered;
mod unused;
mod waivers;

pub use waivers::waive;

use super::model::Handbook;
use crate::diagnostic::{Diagnostic, sort_in_file_order};
use crate::document::bound;
use crate::document::raw::RawHandbook;

/// Advice on a handbook; `written` is what it was compiled from.
#[must_use]
pub fn advise(written: &RawHandbook, handbook: &Handbook) -> Vec<Diagnostic> {
    let mut advice = Vec::new();
    cautions::advise(written, &mut advice);
    evidence::advise(written, handbook, &mut advice);
    idle_names::advise(written, &mut advice);
    texts::advise(written, &mut advice);
    unoffered::advise(written, handbook, &mut advice);
    unused::advise(written, &mut advice);
    sort_in_file_order(&mut advice);
    bound(&mut advice);
    advice
}
