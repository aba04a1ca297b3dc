//! Taking out what the author has thought about.

use std::str::FromStr;

use crate::diagnostic::{CODES, Code, Diagnostic, Severity, near_name, sort_in_file_order};
use crate::document::raw::{RawHandbook, RawWaiver};

/// Drops warnings and advice that a waiver of the entry names, and tells of waivers that name
/// nothing that could be waived.
pub fn waive(written: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    let mut told = Vec::new();
    for waiver in &written.waivers {
        match Code::from_str(&waiver.code.value) {
            Err(()) => told.push(unknown(waiver)),
            Ok(code) if code.severity() == Severity::Error => told.push(grave(waiver, code)),
            Ok(code) => {
                let before = faults.len();
                faults.retain(|fault| fault.code != code || !is_within(fault, waiver));
                if faults.len() == before {
                    told.push(idle(waiver, code));
                }
            }
        }
    }
    faults.extend(told);
    sort_in_file_order(faults);
}

fn is_within(fault: &Diagnostic, waiver: &RawWaiver) -> bool {
    fault.span().is_some_and(|span| {
        span.source == waiver.within.source
            && span.start >= waiver.within.start
            && span.end <= waiver.within.end
    })
}

fn unknown(waiver: &RawWaiver) -> Diagnostic {
    let title = format!("no code is called `{}`", waiver.code.value);
    let near = near_name(&waiver.code.value, CODES.iter().map(|code| code.number()));
    Diagnostic::at(Code::IdleWaiver, title, waiver.code.span, "waives nothing")
        .maybe_help(near.map(|near| format!("did you mean `{near}`?")))
}

fn grave(waiver: &RawWaiver, code: Code) -> Diagnostic {
    let title = format!("`{code}` is an error and can't be waived");
    Diagnostic::at(Code::IdleWaiver, title, waiver.code.span, "waives nothing")
        .note("warnings and advice can be waived")
}

fn idle(waiver: &RawWaiver, code: Code) -> Diagnostic {
    let title = format!("nothing here gives `{code}`");
    Diagnostic::at(Code::IdleWaiver, title, waiver.code.span, "waives nothing").help("take it out")
}
