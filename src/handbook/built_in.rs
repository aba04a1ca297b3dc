//! The handbook that comes with the program.

use crate::source::{SourceId, Sources};

/// A file of the built-in handbook.
#[derive(Clone, Copy, Debug)]
pub struct BuiltInFile {
    /// Its name, such as `rules/causes.yaml`.
    pub name: &'static str,
    /// Its text.
    pub text: &'static str,
    /// The tree of its text, see [`prepared`](crate::document::prepared).
    tree: &'static [u8],
}

static FILES: &[(&str, &str, &[u8])] = include!(concat!(env!("OUT_DIR"), "/built_in.rs"));

/// The files of the built-in handbook, in the order of their names.
pub fn built_in_files() -> impl Iterator<Item = BuiltInFile> {
    FILES.iter().map(|&(name, text, tree)| BuiltInFile { name, text, tree })
}

/// Keeps the files of the built-in handbook among the loaded ones, with what was read of them
/// when the program was built.
pub fn add_built_in(sources: &mut Sources) -> Vec<SourceId> {
    built_in_files().map(|file| sources.add_prepared(file.name, file.text, file.tree)).collect()
}
