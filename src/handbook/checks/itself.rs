//! Findings that say of themselves that they come from the same measurement.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawHandbook;

pub(super) fn check(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    for finding in &raw.findings {
        let id = &finding.id.value;
        for name in finding.same_measurement.iter().filter(|name| &name.value == id) {
            let title = format!("finding `{id}` names itself under `same_measurement`");
            let label = "another finding belongs here";
            faults.push(Diagnostic::at(Code::NamesItself, title, name.span, label));
        }
    }
}
