//! The handbooks that cases were opened with, each kept once under its hash.
//!
//! A verdict is worked out from the events each time, so a case means what it meant only in the
//! handbook that it was opened with.

use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use super::folder::Book;
use super::journal::JournalError;
use crate::handbook::{Compiled, compile_around};
use crate::source::{SourceId, Sources};

/// The folder of the handbooks, within the book.
const FOLDER: &str = "handbooks";

/// The format that this program writes.
const FORMAT: u32 = 1;

/// The largest kept handbook that is read, in bytes (limit of ours: eight times what the files of
/// a handbook may hold, for what JSON adds).
const LARGEST: u64 = 64 << 20;

/// The texts of a handbook.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptHandbook {
    v: u32,
    hash: String,
    files: Vec<KeptFile>,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
struct KeptFile {
    name: String,
    text: String,
    /// Whether it was added to a handbook that was whole without it.
    added: bool,
}

impl KeptHandbook {
    /// The texts of a handbook with this hash; `added` are those that were added to a whole one.
    #[must_use]
    pub fn of(hash: &str, sources: &Sources, added: &[SourceId]) -> Self {
        let file = |(id, source): (SourceId, &crate::source::Source)| KeptFile {
            name: source.name().to_owned(),
            text: source.text().to_owned(),
            added: added.contains(&id),
        };
        Self { v: FORMAT, hash: hash.to_owned(), files: sources.iter().map(file).collect() }
    }

    /// Compiles it anew.
    #[must_use]
    pub fn compile(&self) -> (Sources, Compiled) {
        let mut sources = Sources::default();
        let (mut whole, mut added) = (Vec::new(), Vec::new());
        for file in &self.files {
            let id = sources.add(file.name.clone(), file.text.clone());
            if file.added { added.push(id) } else { whole.push(id) }
        }
        let compiled = compile_around(Vec::new(), &sources, &whole, &added);
        (sources, compiled)
    }
}

/// Why a kept handbook can't be had.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum HandbookMissing {
    /// The book never had it, or lost it.
    #[error("the book doesn't hold it")]
    NotThere,
    /// The file can't be read, or holds something else.
    #[error("its file {path} can't be used: {why}")]
    Unusable {
        /// The file.
        path: PathBuf,
        /// Why.
        why: String,
    },
}

impl Book {
    /// Whether the handbook with this hash is kept.
    #[must_use]
    pub fn keeps_handbook(&self, hash: &str) -> bool {
        self.path_of_handbook(hash).exists()
    }

    /// Keeps a handbook, unless it is there already.
    ///
    /// # Errors
    /// [`JournalError::Disk`] if it can't be written; the book is then as it was.
    pub fn keep_handbook(&self, kept: &KeptHandbook) -> Result<(), JournalError> {
        if self.keeps_handbook(&kept.hash) {
            return Ok(());
        }
        let path = self.path_of_handbook(&kept.hash);
        let disk = |path: &PathBuf| {
            let path = path.clone();
            move |error| JournalError::Disk { path, done: "written", error }
        };
        std::fs::create_dir_all(self.folder().join(FOLDER)).map_err(disk(&path))?;
        let text = serde_json::to_string(kept)?;
        // Two programs may keep it at once; whoever is last puts the same in its place.
        let beside = path.with_extension(format!("{}.part", std::process::id()));
        let written = std::fs::write(&beside, text).and_then(|()| std::fs::rename(&beside, &path));
        written.map_err(|error| {
            let _ = std::fs::remove_file(&beside);
            disk(&path)(error)
        })
    }

    /// The handbook with a hash.
    ///
    /// # Errors
    /// [`HandbookMissing`] says why it can't be had.
    pub fn handbook(&self, hash: &str) -> Result<KeptHandbook, HandbookMissing> {
        let is_hash = !hash.is_empty() && hash.chars().all(|c| c.is_ascii_hexdigit());
        let path = self.path_of_handbook(hash);
        if !is_hash || !path.exists() {
            return Err(HandbookMissing::NotThere);
        }
        let unusable = |why: String| HandbookMissing::Unusable { path: path.clone(), why };
        let length = path.metadata().map_err(|error| unusable(error.to_string()))?.len();
        if length > LARGEST {
            return Err(unusable("it is larger than any handbook".to_owned()));
        }
        let text = std::fs::read_to_string(&path).map_err(|error| unusable(error.to_string()))?;
        let kept: KeptHandbook =
            serde_json::from_str(&text).map_err(|error| unusable(error.to_string()))?;
        if kept.v != FORMAT {
            return Err(unusable(format!("it is of format {}, not {FORMAT}", kept.v)));
        }
        Ok(kept)
    }

    fn path_of_handbook(&self, hash: &str) -> PathBuf {
        self.folder().join(FOLDER).join(format!("{hash}.json"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::built_in::add_built_in;

    fn built_in() -> (KeptHandbook, String) {
        let mut sources = Sources::default();
        let files = add_built_in(&mut sources);
        let compiled = compile_around(Vec::new(), &sources, &files, &[]);
        let hash = compiled.handbook.unwrap().hash().to_owned();
        (KeptHandbook::of(&hash, &sources, &[]), hash)
    }

    #[test]
    fn a_kept_handbook_compiles_to_the_same_hash() {
        let folder = tempfile::tempdir().unwrap();
        let book = Book::at(folder.path());
        let (kept, hash) = built_in();
        book.keep_handbook(&kept).unwrap();
        book.keep_handbook(&kept).unwrap();
        let again = book.handbook(&hash).unwrap();
        assert_eq!(again, kept);
        assert_eq!(again.compile().1.handbook.unwrap().hash(), hash);
        assert!(book.cases().is_empty(), "handbooks are no cases");
    }

    #[test]
    fn what_is_missing_or_spoilt_is_said() {
        let folder = tempfile::tempdir().unwrap();
        let book = Book::at(folder.path());
        assert_eq!(book.handbook("abc"), Err(HandbookMissing::NotThere));
        assert_eq!(book.handbook("../abc"), Err(HandbookMissing::NotThere));
        let (kept, hash) = built_in();
        book.keep_handbook(&kept).unwrap();
        std::fs::write(book.path_of_handbook(&hash), "{").unwrap();
        assert!(matches!(book.handbook(&hash), Err(HandbookMissing::Unusable { .. })));
    }
}
