//! A handbook that is to be worked with. The built-in one, where nothing is added to it, was
//! compiled when the program was built.

use std::borrow::Cow;

use anyhow::Result;

use super::load;
use crate::book::KeptHandbook;
use crate::built_in::{add_built_in, built_in_handbook};
use crate::cli::session::Session;
use crate::handbook::Handbook;
use crate::quantity::UnitExpression;
use crate::source::{SourceId, Sources};

/// A handbook that can run, and its texts.
pub(in crate::cli) struct Ready {
    pub handbook: Handbook,
    pub texts: Texts,
}

impl Ready {
    /// The same for a person, who would rather read these units.
    pub fn shown_in(self, instead: &[(String, UnitExpression)]) -> Self {
        Self { handbook: self.handbook.shown_in(instead), ..self }
    }
}

/// The texts that a handbook came from.
pub(in crate::cli) enum Texts {
    /// Those that come with the program.
    BuiltIn,
    /// Loaded ones, with those that were added to the built-in handbook.
    Loaded(Sources, Vec<SourceId>),
}

/// The handbook that the arguments ask for with its texts, or nothing after its errors have been
/// reported on standard error.
pub(in crate::cli) fn ready(session: &mut Session<'_>) -> Result<Option<Ready>> {
    match unpacked(session) {
        Some(ready) => Ok(Some(ready)),
        None => load(session)?.ready(session),
    }
}

/// The same where no error is told.
pub(in crate::cli) fn ready_unless_faulty(session: &Session<'_>) -> Option<Ready> {
    unpacked(session).or_else(|| load(session).ok()?.into_ready())
}

fn unpacked(session: &Session<'_>) -> Option<Ready> {
    let asked = session.arguments;
    let is_alone = asked.only_rules.is_none() && asked.rules.is_empty();
    let handbook = is_alone.then(built_in_handbook)??;
    Some(Ready { handbook, texts: Texts::BuiltIn })
}

/// The same without the texts.
pub(in crate::cli) fn handbook(session: &mut Session<'_>) -> Result<Option<Handbook>> {
    Ok(ready(session)?.map(|ready| ready.handbook))
}

impl Texts {
    /// All of them.
    pub(in crate::cli) fn sources(&self) -> Cow<'_, Sources> {
        match self {
            Self::BuiltIn => {
                let mut sources = Sources::default();
                add_built_in(&mut sources);
                Cow::Owned(sources)
            }
            Self::Loaded(sources, _) => Cow::Borrowed(sources),
        }
    }

    /// What a book keeps of the handbook of this hash.
    pub(in crate::cli) fn kept(&self, hash: &str) -> KeptHandbook {
        let added = match self {
            Self::BuiltIn => &[],
            Self::Loaded(_, added) => added.as_slice(),
        };
        KeptHandbook::of(hash, &self.sources(), added)
    }
}
