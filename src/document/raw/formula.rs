//! The section `formulas`.

use super::entry::Head;
use super::{RawBasis, RawEntry, Section};
use crate::document::{MapReader, Scalar, Spanned};

/// A formula as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawFormula {
    /// Its id; shares its names with questions and findings.
    pub id: Spanned<String>,
    /// Whether it replaces the built-in formula of this id.
    pub replaces: bool,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// The formula's text (`is`); must be written.
    pub is: Option<Scalar>,
    /// A yes or no in a few words: what is so when it is a yes.
    pub name: Option<Scalar>,
    /// The unit that it is shown in (`as`).
    pub shown_as: Option<Scalar>,
    /// Where its numbers come from.
    pub basis: Option<RawBasis>,
}

impl RawEntry for RawFormula {
    const SECTION: Section = Section::Formulas;

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
            is: reader.text("is"),
            name: reader.text("name"),
            shown_as: reader.text("as"),
            basis: head.basis,
        }
    }
}
