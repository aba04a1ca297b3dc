//! The section `trees`.

use super::columns::{Named, put_right};
use super::entry::Head;
use super::{RawBasis, RawEntry, RawStep, STEP_KEYS, Section};
use crate::diagnostic::Code;
use crate::document::{MapReader, Scalar, Spanned};

/// A tree as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawTree {
    /// Its id.
    pub id: Spanned<String>,
    /// Whether it replaces the built-in tree of this id.
    pub replaces: bool,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// What people call it; must be written.
    pub title: Option<Scalar>,
    /// What is done first in it, as it is told to a caller.
    pub say: Option<Scalar>,
    /// How long it takes.
    pub takes: Option<Scalar>,
    /// The step that it starts with; must be written.
    pub start: Option<Spanned<String>>,
    /// The text question that is asked at the start of each round, if it is run once per part.
    pub rounds: Option<Spanned<String>>,
    /// The steps in the order written; at least one.
    pub steps: Vec<RawStep>,
    /// Where its numbers come from.
    pub basis: Option<RawBasis>,
}

impl RawEntry for RawTree {
    const SECTION: Section = Section::Trees;

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
            say: reader.text("say"),
            takes: reader.text("takes"),
            start: reader.id("start"),
            rounds: rounds(reader),
            steps: steps(reader),
            basis: head.basis,
        }
    }
}

fn rounds(reader: &mut MapReader<'_, '_>) -> Option<Spanned<String>> {
    let from = reader.faults().len();
    let rounds = reader.id("rounds");
    if let Some(fault) = reader.faults().get_mut(from).filter(|fault| fault.code == Code::BadId) {
        let limit = "to limit a circle of steps, write `at_most` and `then` on one of them";
        fault.note =
            Some("`rounds` names the question that is asked at the start of each".to_owned());
        fault.help = Some(limit.to_owned());
    }
    rounds
}

fn steps(reader: &mut MapReader<'_, '_>) -> Vec<RawStep> {
    let tree = reader.what().to_owned();
    let keys: Vec<&str> = STEP_KEYS.iter().map(|known| known.key).collect();
    let entries = reader.map("steps");
    let entries = put_right(entries, &Named { one: "step", keys: &keys }, reader.faults());
    entries.iter().map(|entry| RawStep::read(entry, &tree, reader.faults())).collect()
}
