//! Checks on a whole handbook, one file a check. All belong to the tier that every start runs:
//! what is needed to run at all.
//!
//! Nearly all look at the handbook as written, so that a fault in one entry hides no fault of
//! another; only [`counted_twice`], [`doubt`] and [`read_again`] need every formula checked.

mod causes;
mod circles;
mod conditions;
mod counted_twice;
mod doubt;
mod former;
mod itself;
mod paths;
mod percent;
mod read_again;
mod reserved;
mod ring;
mod size;

pub use reserved::reserved_value;
pub(super) use size::too_many;

use super::graph::NameGraph;
use super::model::Parts;
use super::resolve::Ids;
use crate::diagnostic::Diagnostic;
use crate::document::raw::RawHandbook;

/// Runs every check that looks at the handbook as written.
pub(super) fn check_written(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    let ids = Ids::of(raw);
    causes::check(raw, faults);
    circles::check(raw, &ids, faults);
    conditions::check(raw, faults);
    former::check(raw, faults);
    itself::check(raw, faults);
    paths::check(raw, faults);
    percent::check(raw, faults);
    reserved::check(raw, faults);
}

/// Runs every check that needs whole tables.
pub(super) fn check_tables(raw: &RawHandbook, parts: &Parts, faults: &mut Vec<Diagnostic>) {
    let graph = NameGraph::of(parts);
    counted_twice::check(raw, parts, &graph, faults);
    doubt::check(raw, parts, &graph, faults);
    read_again::check(raw, parts, &graph, faults);
}
