//! Conditions that an action needs or ends and none leaves behind: nobody could ever do the one,
//! and the other does nothing.

use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::RawHandbook;

pub(super) fn check(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    let left = || raw.actions.iter().flat_map(|action| &action.leaves);
    for action in &raw.actions {
        let needed = action.needs.iter().map(|condition| ("needs", condition));
        let ended = action.ends.iter().map(|condition| ("ends", condition));
        for (verb, named) in needed.chain(ended) {
            if left().any(|condition| condition.value == named.value) {
                continue;
            }
            let title = format!(
                "action `{}` {verb} `{}`, and no action leaves that behind",
                action.id.value, named.value
            );
            let near = near_name(&named.value, left().map(|condition| condition.value.as_str()));
            let label = "under no action's `leaves`";
            faults.push(Diagnostic::at(Code::NeverLeft, title, named.span, label).help(
                match near {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!(
                        "add `leaves: [{}]` to the action that brings it about, or take it out",
                        named.value
                    ),
                },
            ));
        }
    }
}
