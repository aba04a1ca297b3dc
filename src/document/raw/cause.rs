//! The section `causes`.

use super::entry::Head;
use super::strength::{factors, strength, strengths};
use super::{RawBasis, RawEntry, RawStrength, Section};
use crate::document::{MapReader, Scalar, Spanned};

/// A cause as written.
#[derive(Clone, Debug, PartialEq)]
pub struct RawCause {
    /// Its id.
    pub id: Spanned<String>,
    /// Whether it replaces the built-in cause of this id.
    pub replaces: bool,
    /// The id that it had before.
    pub was: Option<Spanned<String>>,
    /// What people call it; must be written.
    pub name: Option<Scalar>,
    /// The same in the fewest words that fit into a sentence.
    pub in_short: Option<Scalar>,
    /// Causes of one group call for the same next action.
    pub group: Option<Spanned<String>>,
    /// How often it is there before any symptom; must be written.
    pub how_common: Option<RawStrength>,
    /// Odds factors, by the yes/no question or formula that raises them.
    pub more_if: Vec<(Spanned<String>, Spanned<f64>)>,
    /// Odds factors, by the yes/no question or formula that lowers them.
    pub less_if: Vec<(Spanned<String>, Spanned<f64>)>,
    /// Causes that it brings with it, and how often.
    pub brings: Vec<(Spanned<String>, RawStrength)>,
    /// How it makes what is seen.
    pub because: Option<Scalar>,
    /// Actions that mend it, the first first.
    pub fix: Vec<Spanned<String>>,
    /// Actions that may have cured it, and how often they do.
    pub cured_by: Vec<(Spanned<String>, RawStrength)>,
    /// Cautions to show with it.
    pub cautions: Vec<Spanned<String>>,
    /// Where its numbers come from.
    pub basis: Option<RawBasis>,
}

impl RawEntry for RawCause {
    const SECTION: Section = Section::Causes;

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
            in_short: reader.text("in_short"),
            group: reader.id("group"),
            how_common: strength(reader, "how_common"),
            more_if: factors(reader, "more_if"),
            less_if: factors(reader, "less_if"),
            brings: strengths(reader, "brings"),
            because: reader.text("because"),
            fix: reader.ids("fix"),
            cured_by: strengths(reader, "cured_by"),
            cautions: reader.ids("cautions"),
            basis: head.basis,
        }
    }
}
