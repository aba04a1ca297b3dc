//! What the files of a folder are: a whole handbook, rules that add to one, or no rules.

use std::path::Path;

use anyhow::Result;

use super::read_folder;
use crate::document::raw::read_part;
use crate::source::Sources;

/// What rules a folder holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::cli) enum Rules {
    /// A handbook of its own: one of its files says which format it has.
    Whole,
    /// Entries that add to another handbook.
    Added,
    /// No entry that could be read.
    No,
}

impl Rules {
    /// The option that loads such a folder.
    pub fn option(self) -> &'static str {
        if self == Self::Whole { "--only-rules" } else { "--rules" }
    }
}

/// Looks at what a folder holds; what is wrong with it is for `check` to say.
pub(in crate::cli) fn rules_in(folder: &Path) -> Result<Rules> {
    let mut sources = Sources::default();
    let files = read_folder(&mut sources, folder)?.files;
    let (raw, _) = read_part(&sources, &files, &[], false);
    Ok(if raw.format.is_some() {
        Rules::Whole
    } else if raw.ids().next().is_some() {
        Rules::Added
    } else {
        Rules::No
    })
}
