//! The append-only file of one case.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

use jiff::Timestamp;

use super::disk::Disk;
use super::entry::{Entry, LineFault, event_name, read_line, write_line};
use super::handed::{HandedEvent, lines};
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
    /// Somebody has removed or moved the file while it was open.
    #[error("the case file {path} is no longer there; it was removed or moved meanwhile")]
    Gone {
        /// Where it was.
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

/// An open, locked case file. What the disk refuses waits in memory and is tried again with the
/// next event.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    disk: Box<dyn Disk>,
    /// Bytes of whole lines on the disk.
    good: u64,
    /// The number of the next event.
    next: usize,
    /// What is not on the disk yet, in order.
    waiting: Vec<Entry>,
    /// Why the latest event is not kept.
    trouble: Option<String>,
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
        Ok(Self::on(path, Box::new(file), 0, 0))
    }

    fn on(path: &Path, disk: Box<dyn Disk>, good: u64, next: usize) -> Self {
        let path = path.to_owned();
        Self { path, disk, good, next, waiting: Vec::new(), trouble: None }
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
        let (good, next) = (reading.good as u64, reading.entries.len());
        Ok((Self::on(path, Box::new(file), good, next), reading))
    }

    /// Appends an event with its time, after whatever waits, and syncs it to the disk before
    /// returning.
    ///
    /// # Errors
    /// [`JournalError`] if it could not be written whole. It then waits, and nothing of it stands
    /// in the file as far as the disk allows.
    pub fn append(&mut self, event: &Event, at: Timestamp) -> Result<(), JournalError> {
        self.waiting.push(Entry { number: self.next, at, event: event.clone() });
        self.next += 1;
        let written = self.write_waiting();
        self.trouble = written.as_ref().err().map(ToString::to_string);
        written
    }

    /// Puts events that were handed over behind what is there, all or none of them.
    ///
    /// # Errors
    /// [`JournalError`] if they can't be written.
    pub fn take_up(&mut self, events: &[HandedEvent]) -> Result<(), JournalError> {
        let text = lines(events, self.next)?;
        self.disk.put(text.as_bytes()).map_err(|error| {
            let _ = self.disk.cut(self.good);
            disk(&self.path, "written")(error)
        })?;
        self.good += text.len() as u64;
        self.next += events.len();
        Ok(())
    }

    fn write_waiting(&mut self) -> Result<(), JournalError> {
        while let Some(entry) = self.waiting.first() {
            let line = write_line(entry)? + "\n";
            if let Err(error) = self.disk.put(line.as_bytes()) {
                // Half a line would spoil the one that is written next.
                let _ = self.disk.cut(self.good);
                return Err(disk(&self.path, "written")(error));
            }
            self.good += line.len() as u64;
            self.waiting.remove(0);
        }
        if self.path.exists() {
            Ok(())
        } else {
            Err(JournalError::Gone { path: self.path.clone() })
        }
    }

    /// Why the latest event is not kept, if it isn't.
    #[must_use]
    pub fn trouble(&self) -> Option<&str> {
        self.trouble.as_deref()
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
                if entry.event == Event::Unknown {
                    reading.notices.push(unknown(number, line));
                }
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

fn unknown(number: usize, line: &[u8]) -> String {
    format!(
        "Line {} of the case file: its event `{}` is not known to this version of the program. It \
         is kept, and has no effect here.",
        number + 1,
        event_name(&String::from_utf8_lossy(line))
    )
}

#[cfg(test)]
mod tests;
