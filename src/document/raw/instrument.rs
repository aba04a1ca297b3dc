//! The section `instruments`.

use super::entry::Head;
use super::{RawBasis, RawEntry, Section};
use crate::document::{MapReader, Scalar, Spanned};

/// An instrument as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawInstrument {
    /// Its id.
    pub id: Spanned<String>,
    /// Whether it replaces the built-in instrument of this id.
    pub replaces: bool,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// What people call it; must be written.
    pub name: Option<Scalar>,
    /// The choice question that says which unit its face shows.
    pub face: Option<Spanned<String>>,
    /// Half-width of its scale error, as a share; may name a question.
    pub scale: Option<Scalar>,
    /// Half-width of its zero error; may name a question.
    pub offset: Option<Scalar>,
    /// The smallest step that it shows.
    pub resolution: Option<Scalar>,
    /// What its reading depends on beside the pressure.
    pub gas_response: Option<Scalar>,
    /// Where its numbers come from.
    pub basis: Option<RawBasis>,
}

impl RawEntry for RawInstrument {
    const SECTION: Section = Section::Instruments;

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
            name: reader.text("name"),
            face: reader.id("face"),
            scale: reader.text("scale"),
            offset: reader.text("offset"),
            resolution: reader.text("resolution"),
            gas_response: reader.text("gas_response"),
            basis: head.basis,
        }
    }
}
