//! The section `sources`.

use super::entry::Head;
use super::{RawEntry, Section};
use crate::document::{MapReader, Scalar, Spanned};

/// A source as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawSource {
    /// Its id, which a `basis` names.
    pub id: Spanned<String>,
    /// Whether it replaces the built-in source of this id.
    pub replaces: bool,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// Its title; must be written.
    pub title: Option<Scalar>,
    /// Who made it.
    pub by: Option<Scalar>,
    /// When it came out.
    pub year: Option<Scalar>,
    /// Where it is found (`where`): an address, a page, a table.
    pub found_at: Option<Scalar>,
}

impl RawEntry for RawSource {
    const SECTION: Section = Section::Sources;

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
            title: reader.text("title"),
            by: reader.text("by"),
            year: reader.text("year"),
            found_at: reader.text("where"),
        }
    }
}
