//! Checks on a resolved handbook, one file a check. All belong to the tier that every start runs:
//! what is needed to run at all.

mod circles;
mod doubt;
mod groups;
mod paths;
mod reserved;
mod visits;

use super::model::Parts;
use crate::diagnostic::Diagnostic;
use crate::document::raw::RawHandbook;

/// What a check looks at.
pub(super) struct Checked<'a> {
    /// The handbook as written, for the places.
    pub raw: &'a RawHandbook,
    /// Its tables.
    pub parts: &'a Parts,
}

/// Runs every check that needs only names.
pub(super) fn check_names(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    reserved::check(raw, faults);
}

/// Runs every check that needs whole tables.
pub(super) fn check_tables(handbook: &Checked<'_>, faults: &mut Vec<Diagnostic>) {
    circles::check(handbook, faults);
    doubt::check(handbook, faults);
    groups::check(handbook, faults);
    paths::check(handbook, faults);
    visits::check(handbook, faults);
}
