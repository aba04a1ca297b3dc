//! The handbook that comes with the program.
//!
//! `build.rs` puts in the texts of `rules/`, the trees that reading them gives, and, if the
//! handbook is sound, the tables that compiling them gives. A start that adds nothing of its own
//! takes the tables; one with added files compiles the texts anew. Imports `handbook` and `source`.

use crate::handbook::Handbook;
use crate::source::{SourceId, Sources};

/// A file of the built-in handbook.
#[derive(Clone, Copy, Debug)]
pub struct BuiltInFile {
    /// Its name, such as `rules/causes.yaml`.
    pub name: &'static str,
    /// Its text.
    pub text: &'static str,
    /// The tree of its text.
    tree: &'static [u8],
}

static FILES: &[(&str, &str, &[u8])] = include!(concat!(env!("OUT_DIR"), "/built_in.rs"));

static TABLES: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/handbook.tables"));

/// The files of the built-in handbook, in the order of their names.
pub fn built_in_files() -> impl Iterator<Item = BuiltInFile> {
    FILES.iter().map(|&(name, text, tree)| BuiltInFile { name, text, tree })
}

/// Keeps the files of the built-in handbook among the loaded ones, with what was read of them
/// when the program was built.
pub fn add_built_in(sources: &mut Sources) -> Vec<SourceId> {
    built_in_files().map(|file| sources.add_prepared(file.name, file.text, file.tree)).collect()
}

/// The built-in handbook as it was compiled when the program was built; none if it had errors
/// then, which compiling its files tells of.
#[must_use]
pub fn built_in_handbook() -> Option<Handbook> {
    Handbook::unpack(TABLES)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handbook::compile;

    #[test]
    fn the_tables_made_when_the_program_was_built_are_those_that_compiling_gives() {
        let mut sources = Sources::default();
        let files = add_built_in(&mut sources);
        let compiled = compile(&sources, &files, &[]).handbook.unwrap();
        let unpacked = built_in_handbook().unwrap();
        assert_eq!(unpacked.hash(), compiled.hash());
        assert!(unpacked.pack() == compiled.pack() && compiled.pack().is_some());
        // The second look: everything that compiling makes, with what is worked out from it.
        assert!(format!("{unpacked:?}") == format!("{compiled:?}"));
    }
}
