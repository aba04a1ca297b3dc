//! The append-only file of one case.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use jiff::Timestamp;

use super::entry::{Entry, LineFault, read_line, write_line};
use crate::case::{Event, Keeper};

/// The largest case file that is read, in bytes; far above what any case takes.
const LARGEST_CASE: u64 = 64 * 1024 * 1024;

/// Why a case file can't be used.
#[derive(Debug, thiserror::Error)]
pub enum JournalError {
    /// The file system refused.
    #[error("the case file {path} can't be {done}: {error}")]
    Disk {
        /// The file.
        path: PathBuf,
        /// What was tried: `opened`, `read`, `written`.
        done: &'static str,
        /// What the system says.
        error: std::io::Error,
    },
    /// Another process has the case open.
    #[error("the case {path} is open in another terminal; close it there first")]
    Locked {
        /// The file.
        path: PathBuf,
    },
    /// An event can't be written as JSON.
    #[error("an event can't be written: {0}")]
    Event(#[from] serde_json::Error),
}

/// What a case file holds.
#[derive(Debug, Default)]
pub struct Reading {
    /// The entries that could be read, in order.
    pub entries: Vec<Entry>,
    /// What had to be left out and why, for people.
    pub notices: Vec<String>,
    /// Bytes of the file that hold good entries.
    good: usize,
    /// Whether only a torn last line was left out, so that the case may go on.
    pub is_writable: bool,
}

/// An open, locked case file.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    file: File,
    next: usize,
}

impl Journal {
    /// Creates a new case file, which must not exist, and locks it.
    ///
    /// # Errors
    /// [`JournalError::Disk`] if it exists or can't be created.
    pub fn create(path: &Path) -> Result<Self, JournalError> {
        let file = OpenOptions::new().append(true).read(true).create_new(true).open(path);
        let file = file.map_err(disk(path, "created"))?;
        lock(path, &file)?;
        Ok(Self { path: path.to_owned(), file, next: 0 })
    }

    /// Opens a case file to go on with it, and locks it. A torn last line is cut off.
    ///
    /// # Errors
    /// [`JournalError`] if it can't be opened or another process has it.
    pub fn open(path: &Path) -> Result<(Self, Reading), JournalError> {
        let file = OpenOptions::new().append(true).read(true).open(path);
        let mut file = file.map_err(disk(path, "opened"))?;
        lock(path, &file)?;
        let reading = read_from(path, &mut file)?;
        if reading.is_writable {
            file.set_len(reading.good as u64).map_err(disk(path, "written"))?;
        }
        let next = reading.entries.len();
        Ok((Self { path: path.to_owned(), file, next }, reading))
    }

    /// Appends an event with its time, and syncs it to the disk before returning.
    ///
    /// # Errors
    /// [`JournalError`] if it could not be written whole.
    pub fn append(&mut self, event: &Event, at: Timestamp) -> Result<(), JournalError> {
        let entry = Entry { number: self.next, at, event: event.clone() };
        let line = write_line(&entry)? + "\n";
        self.file.write_all(line.as_bytes()).map_err(disk(&self.path, "written"))?;
        self.file.sync_data().map_err(disk(&self.path, "written"))?;
        self.next += 1;
        Ok(())
    }

    /// The case's id: the name of the file without its ending.
    #[must_use]
    pub fn id(&self) -> String {
        self.path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default()
    }

    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }
}

impl Keeper for Journal {
    fn keep(&mut self, event: &Event) -> Result<(), String> {
        self.append(event, Timestamp::now()).map_err(|error| error.to_string())
    }
}

/// Reads a case file without locking it.
///
/// # Errors
/// [`JournalError::Disk`] if it can't be read.
pub fn read_journal(path: &Path) -> Result<Reading, JournalError> {
    let mut file = File::open(path).map_err(disk(path, "opened"))?;
    read_from(path, &mut file)
}

fn disk(path: &Path, done: &'static str) -> impl Fn(std::io::Error) -> JournalError + use<> {
    let path = path.to_owned();
    move |error| JournalError::Disk { path: path.clone(), done, error }
}

fn lock(path: &Path, file: &File) -> Result<(), JournalError> {
    match file.try_lock() {
        Ok(()) => Ok(()),
        Err(TryLockError::WouldBlock) => Err(JournalError::Locked { path: path.to_owned() }),
        Err(TryLockError::Error(error)) => {
            Err(JournalError::Disk { path: path.to_owned(), done: "locked", error })
        }
    }
}

fn read_from(path: &Path, file: &mut File) -> Result<Reading, JournalError> {
    file.seek(SeekFrom::Start(0)).map_err(disk(path, "read"))?;
    let mut bytes = Vec::new();
    file.take(LARGEST_CASE).read_to_end(&mut bytes).map_err(disk(path, "read"))?;
    Ok(read_bytes(&bytes))
}

/// Reads lines until one is damaged.
fn read_bytes(bytes: &[u8]) -> Reading {
    let mut reading = Reading { is_writable: true, ..Reading::default() };
    let mut rest = bytes;
    while !rest.is_empty() {
        let end = rest.iter().position(|&byte| byte == b'\n');
        let line = &rest[..end.unwrap_or(rest.len())];
        let number = reading.entries.len();
        let read = std::str::from_utf8(line)
            .map_err(|error| LineFault::Unreadable(error.to_string()))
            .and_then(|line| read_line(line, number));
        match (read, end) {
            (Ok(entry), Some(end)) => {
                reading.entries.push(entry);
                reading.good += end + 1;
                rest = &rest[end + 1..];
            }
            (_, None) => {
                reading.notices.push(format!(
                    "Line {} of the case file was not written to its end and is left out.",
                    number + 1
                ));
                return reading;
            }
            (Err(fault), Some(_)) => {
                reading.is_writable = false;
                reading.notices.push(format!(
                    "Line {} of the case file: {fault}. Everything before it is kept.",
                    number + 1
                ));
                return reading;
            }
        }
    }
    reading
}

#[cfg(test)]
mod tests {
    use super::*;

    fn note(text: &str) -> Event {
        Event::Noted { text: text.to_owned() }
    }

    fn at() -> Timestamp {
        "2026-03-31T10:15:30Z".parse().unwrap()
    }

    #[test]
    fn what_was_appended_is_read_back() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("case.jsonl");
        let mut journal = Journal::create(&path).unwrap();
        journal.append(&note("one"), at()).unwrap();
        journal.append(&note("two"), at()).unwrap();
        drop(journal);
        let (mut journal, reading) = Journal::open(&path).unwrap();
        assert_eq!(reading.entries.len(), 2);
        journal.append(&note("three"), at()).unwrap();
        assert_eq!(read_journal(&path).unwrap().entries[2].event, note("three"));
    }

    #[test]
    fn a_case_cut_at_any_byte_keeps_every_whole_line() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("case.jsonl");
        let mut journal = Journal::create(&path).unwrap();
        for text in ["one", "two \u{1b}[2J", "three"] {
            journal.append(&note(text), at()).unwrap();
        }
        let bytes = std::fs::read(&path).unwrap();
        for cut in 0..=bytes.len() {
            let whole = bytes[..cut].iter().filter(|&&byte| byte == b'\n').count();
            let reading = read_bytes(&bytes[..cut]);
            assert_eq!(reading.entries.len(), whole, "cut at {cut}");
            assert!(reading.is_writable);
        }
    }

    #[test]
    fn a_damaged_line_keeps_what_came_before_and_is_not_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("case.jsonl");
        let mut journal = Journal::create(&path).unwrap();
        journal.append(&note("one"), at()).unwrap();
        journal.append(&note("two"), at()).unwrap();
        drop(journal);
        let text = std::fs::read_to_string(&path).unwrap().replace("two", "2wo");
        std::fs::write(&path, &text).unwrap();
        let (_, reading) = Journal::open(&path).unwrap();
        assert_eq!(reading.entries.len(), 1);
        assert!(!reading.is_writable);
        assert!(reading.notices[0].contains("Line 2"), "{:?}", reading.notices);
        assert_eq!(std::fs::read_to_string(&path).unwrap(), text);
    }

    #[test]
    fn a_case_is_open_in_one_place_only() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("case.jsonl");
        let _open = Journal::create(&path).unwrap();
        assert!(matches!(Journal::open(&path), Err(JournalError::Locked { .. })));
    }
}
