//! What an author knows of and keeps: advice that `waive` turns off for one entry, with the reason.

use crate::diagnostic::Diagnostic;
use crate::document::shape::{read_text, wrong_shape};
use crate::document::{Entry, Scalar, Spanned};
use crate::source::Span;

/// A waiver as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawWaiver {
    /// The code, such as `H512`, not yet looked up.
    pub code: Spanned<String>,
    /// Why it is waived.
    pub reason: Option<Scalar>,
    /// The entry that it is about, from its id to its end.
    pub within: Span,
}

impl RawWaiver {
    /// The waivers of one entry of a section.
    pub(super) fn of(entry: &Entry, faults: &mut Vec<Diagnostic>) -> Vec<Self> {
        let keys = entry.value.entries().unwrap_or_default();
        let Some(waive) = keys.iter().find(|key| key.key.text == "waive") else {
            return Vec::new();
        };
        let within = entry.key.span.to(entry.value.span);
        let what = format!("`waive` of `{}`", entry.key.text);
        let Some(waivers) = waive.value.entries() else {
            wrong_shape(&waive.value, waive.key.span, &what, "a reason for each code", faults);
            return Vec::new();
        };
        let read = |waiver: &Entry| {
            let code = Spanned::new(waiver.key.text.clone(), waiver.key.span);
            let what = format!("`{}` under {what}", code.value);
            let reason = read_text(&waiver.value, code.span, &what, faults);
            Self { code, reason, within }
        };
        waivers.iter().map(read).collect()
    }
}
