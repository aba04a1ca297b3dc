//! The fault itself, as plain facts.

use super::{Code, Severity};
use crate::source::Span;

/// A place that a fault points at, with what is wrong or expected there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The smallest wrong token, or where the expectation was set.
    pub span: Span,
    /// What is to be said about it; may be empty.
    pub text: String,
}

/// One fault in something that an author wrote.
///
/// The title names the fault with the author's own names, in lower case and without a final
/// period. `help` is one action that surely mends it, or nothing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// Which fault it is.
    pub code: Code,
    /// What is wrong.
    pub title: String,
    /// Where; the first label is the main one.
    pub labels: Vec<Label>,
    /// Why it is a fault, where the labels do not say so.
    pub note: Option<String>,
    /// How to mend it, where that is certain.
    pub help: Option<String>,
}

impl Diagnostic {
    /// A fault at a place.
    #[must_use]
    pub fn at(code: Code, title: impl Into<String>, span: Span, text: impl Into<String>) -> Self {
        Self::nowhere(code, title).and_at(span, text)
    }

    /// A fault of no single place, such as a file that cannot be read.
    #[must_use]
    pub fn nowhere(code: Code, title: impl Into<String>) -> Self {
        Self { code, title: title.into(), labels: Vec::new(), note: None, help: None }
    }

    /// The same fault with another place to look at.
    #[must_use]
    pub fn and_at(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    /// The same fault with the reason why it is one.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> Self {
        self.note = Some(note.into());
        self
    }

    /// The same fault with its mend.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// The same fault with its mend, if there is one to offer.
    #[must_use]
    pub fn maybe_help(mut self, help: Option<String>) -> Self {
        self.help = help.or(self.help);
        self
    }

    /// How grave it is.
    #[must_use]
    pub fn severity(&self) -> Severity {
        self.code.severity()
    }

    /// The main place, if it has one.
    #[must_use]
    pub fn span(&self) -> Option<Span> {
        self.labels.first().map(|label| label.span)
    }
}

/// Puts faults into the order of the files, then of the places, then of the codes, and drops
/// exact repeats.
pub fn sort_in_file_order(faults: &mut Vec<Diagnostic>) {
    faults.sort_by_key(|fault| (fault.span(), fault.code));
    faults.dedup();
}
