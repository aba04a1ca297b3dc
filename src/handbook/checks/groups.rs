//! How many causes can be weighed together: every combination of them is one state.

use super::Checked;
use crate::diagnostic::{Code, Diagnostic};

/// The most causes that are weighed exactly: 2^18 states (engine limit, measured to stay within
/// tens of milliseconds and megabytes).
pub(super) const MOST_CAUSES: usize = 18;

pub(super) fn check(handbook: &Checked<'_>, faults: &mut Vec<Diagnostic>) {
    let causes = &handbook.raw.causes;
    if let Some(one_too_many) = causes.get(MOST_CAUSES) {
        let title = format!("{} causes are more than can be weighed together", causes.len());
        let label = format!("only {MOST_CAUSES} causes can be weighed exactly");
        faults.push(
            Diagnostic::at(Code::TooManyCauses, title, one_too_many.id.span, label)
                .note("each further cause doubles the number of combinations"),
        );
    }
}
