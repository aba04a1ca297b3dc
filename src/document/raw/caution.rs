//! The section `cautions`.

use super::entry::Head;
use super::{RawEntry, Section};
use crate::document::{MapReader, Scalar, Spanned};

/// A caution as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawCaution {
    /// Its id.
    pub id: Spanned<String>,
    /// Whether it replaces the built-in caution of this id.
    pub replaces: bool,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// `stop`, `caution` or `note`, not yet looked up; must be written.
    pub severity: Option<Spanned<String>>,
    /// Where it applies; everywhere if not written.
    pub only_if: Option<Scalar>,
    /// What could hurt and how to avoid it; must be written.
    pub text: Option<Scalar>,
    /// Whom to ask.
    pub refer: Option<Scalar>,
}

impl RawEntry for RawCaution {
    const SECTION: Section = Section::Cautions;

    fn id(&self) -> &Spanned<String> {
        &self.id
    }

    fn replaces(&self) -> bool {
        self.replaces
    }

    fn read(head: Head, reader: &mut MapReader<'_, '_>) -> Self {
        Self {
            id: head.id,
            replaces: head.replaces,
            was: head.was,
            severity: reader.id("severity"),
            only_if: reader.text("only_if"),
            text: reader.text("text"),
            refer: reader.text("refer"),
        }
    }
}
