//! Conditions that an action needs and none leaves behind: nobody could ever do it.

use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::RawHandbook;

pub(super) fn check(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    let left = || raw.actions.iter().flat_map(|action| &action.leaves);
    for action in &raw.actions {
        for needed in &action.needs {
            if left().any(|condition| condition.value == needed.value) {
                continue;
            }
            let title = format!(
                "action `{}` needs `{}`, and no action leaves that behind",
                action.id.value, needed.value
            );
            let near = near_name(&needed.value, left().map(|condition| condition.value.as_str()));
            let label = "under no action's `leaves`";
            faults.push(
                Diagnostic::at(Code::NeverLeft, title, needed.span, label)
                    .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
            );
        }
    }
}
