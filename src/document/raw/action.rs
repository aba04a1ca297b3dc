//! The section `actions`.

use super::entry::Head;
use super::{RawBasis, RawEntry, Section};
use crate::document::{MapReader, Scalar, Spanned};

/// An action as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawAction {
    /// Its id.
    pub id: Spanned<String>,
    /// Whether it replaces the built-in action of this id.
    pub replaces: bool,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// What is to be done (`do`); must be written.
    pub text: Option<Scalar>,
    /// How long it takes.
    pub takes: Option<Scalar>,
    /// What has to be at hand.
    pub parts: Vec<Scalar>,
    /// Conditions that must hold before it.
    pub needs: Vec<Spanned<String>>,
    /// Conditions that hold after it.
    pub leaves: Vec<Spanned<String>>,
    /// Conditions that hold no longer after it.
    pub ends: Vec<Spanned<String>>,
    /// Questions whose answers from before it tell of something else than what is there now.
    pub outdates: Vec<Spanned<String>>,
    /// What is said of it afterwards: `the oil was changed`.
    pub once_done: Option<Scalar>,
    /// What people say who have done it: `changed the oil`.
    pub told_as: Vec<Scalar>,
    /// What shows that it is done already.
    pub done_if: Option<Scalar>,
    /// What shows that what is wrong doesn't sit where it works.
    pub not_if: Option<Scalar>,
    /// What could hurt in doing it.
    pub hazard: Option<Scalar>,
    /// Cautions to show before it.
    pub cautions: Vec<Spanned<String>>,
    /// Where its numbers come from.
    pub basis: Option<RawBasis>,
}

impl RawEntry for RawAction {
    const SECTION: Section = Section::Actions;

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
            text: reader.text("do"),
            takes: reader.text("takes"),
            parts: reader.texts("parts"),
            needs: reader.ids("needs"),
            leaves: reader.ids("leaves"),
            ends: reader.ids("ends"),
            outdates: reader.ids("outdates"),
            once_done: reader.text("once_done"),
            told_as: reader.texts("told_as"),
            done_if: reader.text("done_if"),
            not_if: reader.text("not_if"),
            hazard: reader.text("hazard"),
            cautions: reader.ids("cautions"),
            basis: head.basis,
        }
    }
}
