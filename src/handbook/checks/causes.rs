//! How many causes can be weighed together: every combination of them is one state.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawHandbook;

/// The most causes that are weighed exactly: 2^18 states (engine limit, measured to stay within
/// tens of milliseconds and megabytes).
pub(super) const MOST_CAUSES: usize = 18;

pub(super) fn check(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    if let Some(one_too_many) = raw.causes.get(MOST_CAUSES) {
        let title = format!("{} causes are more than can be weighed together", raw.causes.len());
        let label = format!("only {MOST_CAUSES} causes can be weighed exactly");
        faults.push(
            Diagnostic::at(Code::TooManyCauses, title, one_too_many.id.span, label)
                .note("each further cause doubles the number of combinations"),
        );
    }
}
