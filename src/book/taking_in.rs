//! A case that was handed over, as it comes into the book.

use std::fs::OpenOptions;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use jiff::tz::TimeZone;

use super::folder::{Book, CaseFile};
use super::handed::{HandedCase, HandedEvent, lines};
use super::journal::{Journal, JournalError};

/// The longest name of a case that is taken over as it is (limit of ours).
const LONGEST_ID: usize = 64;

impl Book {
    /// The case of the book that was opened at the same moment in the same way as this one, with
    /// its events.
    #[must_use]
    pub fn same_case(&self, handed: &HandedCase) -> Option<(CaseFile, Vec<HandedEvent>)> {
        let first = handed.events.first()?;
        let named = self.find(&handed.id);
        let others = || self.cases().into_iter();
        named.into_iter().chain(std::iter::once_with(others).flatten()).find_map(|file| {
            let bytes = std::fs::read(&file.path).ok()?;
            let events = HandedCase::of_file(&file.id, &bytes, None).events;
            (events.first() == Some(first)).then_some((file, events))
        })
    }

    /// Takes a case in as a new one, under its own id where that is free, and gives its id.
    ///
    /// # Errors
    /// [`JournalError`] if it can't be written; nothing of it is left then.
    pub fn take_in(&self, handed: &HandedCase) -> Result<String, JournalError> {
        let is_plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
        let is_name = !handed.id.is_empty() && handed.id.len() <= LONGEST_ID;
        let named = (is_name && handed.id.chars().all(is_plain) && self.find(&handed.id).is_none())
            .then(|| self.find_path(&handed.id))
            .flatten();
        let made = named.map(|path| self.made(&path)).and_then(Result::ok);
        let (id, mut journal) = match made {
            Some(journal) => (handed.id.clone(), journal),
            None => {
                let at = handed.events.first().map(|event| event.at).unwrap_or_default();
                self.new_case(TimeZone::UTC.to_datetime(at).date())?
            }
        };
        journal.take_up(&handed.events).inspect_err(|_| {
            // A case that is not whole is none; it can be taken in again.
            let _ = std::fs::remove_file(journal.path());
        })?;
        Ok(id)
    }

    fn made(&self, path: &Path) -> Result<Journal, JournalError> {
        std::fs::create_dir_all(self.folder()).map_err(|error| JournalError::Disk {
            path: self.folder().to_owned(),
            done: "created",
            error,
        })?;
        Journal::create(path)
    }

    /// Puts other events in the place of those of a case; the file as it was stays beside it, under
    /// its name with `.before` behind it, or `.before-2` and so on where there is one already. Gives
    /// the path of that.
    ///
    /// # Errors
    /// [`JournalError`] if it can't be written; the case is then as it was.
    pub fn put_in_place(
        &self,
        file: &CaseFile,
        events: &[HandedEvent],
    ) -> Result<PathBuf, JournalError> {
        let text = lines(events, 0)?;
        let part = file.path.with_extension("jsonl.part");
        let disk = |error| JournalError::Disk { path: file.path.clone(), done: "written", error };
        let write = || {
            let mut new = OpenOptions::new().write(true).create(true).truncate(true).open(&part)?;
            new.write_all(text.as_bytes())?;
            new.sync_all()?;
            let before = keep_aside(&file.path)?;
            std::fs::rename(&part, &file.path)?;
            Ok(before)
        };
        write().map_err(|error| {
            let _ = std::fs::remove_file(&part);
            disk(error)
        })
    }
}

/// Copies a case file to the first name behind which nothing is kept yet.
fn keep_aside(path: &Path) -> io::Result<PathBuf> {
    let mut copy = 1;
    loop {
        let ending = if copy == 1 { "before".to_owned() } else { format!("before-{copy}") };
        let aside = path.with_extension(format!("jsonl.{ending}"));
        match OpenOptions::new().write(true).create_new(true).open(&aside) {
            Ok(mut kept) => {
                io::copy(&mut std::fs::File::open(path)?, &mut kept)?;
                kept.sync_all()?;
                return Ok(aside);
            }
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => copy += 1,
            Err(error) => return Err(error),
        }
    }
}
