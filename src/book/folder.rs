//! The folder that holds the cases.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

use etcetera::BaseStrategy;
use jiff::civil::Date;

use super::journal::{Journal, JournalError};

/// The ending of a case file.
const ENDING: &str = "jsonl";

/// Where cases are kept.
#[derive(Clone, Debug)]
pub struct Book {
    folder: PathBuf,
}

/// A case file in the book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CaseFile {
    /// The case's id: the name of the file without its ending.
    pub id: String,
    /// The file.
    pub path: PathBuf,
    /// When it was last written.
    pub written: SystemTime,
}

impl Book {
    /// The book in a folder, which is made when the first case is.
    #[must_use]
    pub fn at(folder: impl Into<PathBuf>) -> Self {
        Self { folder: folder.into() }
    }

    /// The book in the platform's data folder; none if the system names no home folder.
    #[must_use]
    pub fn of_the_platform() -> Option<Self> {
        let strategy = etcetera::choose_base_strategy().ok()?;
        Some(Self::at(strategy.data_dir().join("dryhold").join("cases")))
    }

    /// The folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Makes a new case file, named by the day and a number: `2026-03-31-1`.
    ///
    /// # Errors
    /// [`JournalError::Disk`] if the folder or the file can't be made.
    pub fn new_case(&self, day: Date) -> Result<(String, Journal), JournalError> {
        std::fs::create_dir_all(&self.folder).map_err(|error| JournalError::Disk {
            path: self.folder.clone(),
            done: "created",
            error,
        })?;
        let mut number = 1;
        loop {
            let id = format!("{day}-{number}");
            match Journal::create(&self.path_of(&id)) {
                Ok(journal) => return Ok((id, journal)),
                Err(JournalError::Disk { error, .. })
                    if error.kind() == std::io::ErrorKind::AlreadyExists =>
                {
                    number += 1;
                }
                Err(error) => return Err(error),
            }
        }
    }

    /// Every case, the one written last first. A folder that isn't there holds none.
    #[must_use]
    pub fn cases(&self) -> Vec<CaseFile> {
        let Ok(entries) = std::fs::read_dir(&self.folder) else { return Vec::new() };
        let mut cases: Vec<CaseFile> =
            entries.flatten().filter_map(|entry| case_file(&entry.path())).collect();
        cases.sort_by(|a, b| b.written.cmp(&a.written).then_with(|| b.id.cmp(&a.id)));
        cases
    }

    /// A case by its id, if there is one.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<CaseFile> {
        self.find_path(id).as_deref().and_then(case_file)
    }

    /// Where a case of this id is kept; none for what can't be one.
    pub(super) fn find_path(&self, id: &str) -> Option<PathBuf> {
        let is_plain = !id.is_empty() && !id.contains(['/', '\\', '\0']) && !id.starts_with('.');
        is_plain.then(|| self.path_of(id))
    }

    fn path_of(&self, id: &str) -> PathBuf {
        self.folder.join(format!("{id}.{ENDING}"))
    }
}

fn case_file(path: &Path) -> Option<CaseFile> {
    let is_case = path.extension().is_some_and(|ending| ending == ENDING);
    let written = path.metadata().ok().filter(std::fs::Metadata::is_file)?.modified().ok()?;
    let id = path.file_stem()?.to_str()?.to_owned();
    is_case.then(|| CaseFile { id, path: path.to_owned(), written })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cases_of_one_day_are_numbered() {
        let folder = tempfile::tempdir().unwrap();
        let book = Book::at(folder.path().join("cases"));
        assert!(book.cases().is_empty());
        let day: Date = "2026-03-31".parse().unwrap();
        let (first, _a) = book.new_case(day).unwrap();
        let (second, _b) = book.new_case(day).unwrap();
        assert_eq!((first.as_str(), second.as_str()), ("2026-03-31-1", "2026-03-31-2"));
        assert_eq!(book.cases().len(), 2);
        assert!(book.find("2026-03-31-2").is_some());
        assert!(book.find("../2026-03-31-2").is_none());
    }
}
