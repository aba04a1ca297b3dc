//! The log on the disk: every reading is synced before it counts.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, ErrorKind, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail};
use jiff::civil::Date;

use super::entry::{Entry, FIRST_LINE, TAKEN_BACK, counted_from, heading, unit_of_heading};
use crate::quantity::{QuantityKind, UnitExpression, parse_prompt_unit};
use crate::series::read_line;

/// The largest log that is gone on with, in bytes; far above what anybody types.
const LARGEST: u64 = 64 * 1024 * 1024;

/// What is said of a line that a fault cut in two.
const TORN: &str = "The last line of the log was not written to its end and is left out.";

/// An open, locked log.
#[derive(Debug)]
pub(super) struct Log {
    path: PathBuf,
    file: File,
    /// Where each row that counts begins, and where the next line goes.
    rows: Vec<u64>,
    end: u64,
}

/// What a log held when it was opened.
#[derive(Debug)]
pub(super) struct Found {
    pub entries: Vec<Entry>,
    /// The unit of its column.
    pub unit: UnitExpression,
    /// What had to be left out, for people.
    pub notice: Option<String>,
}

impl Log {
    /// Makes a new log in a folder, named by the day and a number: `2026-11-25-1.csv`.
    pub fn new_in(folder: &Path, day: Date, unit: &UnitExpression) -> io::Result<Self> {
        std::fs::create_dir_all(folder)?;
        let mut number = 1;
        loop {
            match Self::create(&folder.join(format!("{day}-{number}.csv")), unit) {
                Err(error) if error.kind() == ErrorKind::AlreadyExists => number += 1,
                made => return made,
            }
        }
    }

    /// Makes a new log, which must not exist.
    pub fn create(path: &Path, unit: &UnitExpression) -> io::Result<Self> {
        let file = OpenOptions::new().read(true).write(true).create_new(true).open(path)?;
        file.try_lock().map_err(io::Error::from)?;
        let mut log = Self { path: path.to_owned(), file, rows: Vec::new(), end: 0 };
        log.append(&heading(unit)).inspect_err(|_| {
            // An empty file would be no log to go on with.
            let _ = std::fs::remove_file(path);
        })?;
        // The folder holds the name of the file; where it can't be synced the file itself still is.
        if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            let _ = File::open(folder).and_then(|folder| folder.sync_all());
        }
        Ok(log)
    }

    /// Opens a log to go on with it. A last line that was not written to its end is cut off.
    ///
    /// # Errors
    /// The file is no log of a watch, is open elsewhere, or can't be read and written.
    pub fn open(path: &Path) -> Result<(Self, Found)> {
        let name = path.display();
        if !path.is_file() {
            bail!("`{name}` is no file that readings can be kept in");
        }
        let file = OpenOptions::new().read(true).write(true).open(path);
        let mut file = file.with_context(|| format!("the log `{name}` can't be opened"))?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                bail!("the log `{name}` is open in another terminal; end the watch there first")
            }
            Err(TryLockError::Error(error)) => {
                return Err(error).with_context(|| format!("the log `{name}` can't be locked"));
            }
        }
        let bytes = bytes(&mut file).with_context(|| format!("the log `{name}` can't be read"))?;
        let whole = bytes.iter().rposition(|byte| *byte == b'\n').map_or(0, |at| at + 1);
        let text = std::str::from_utf8(&bytes[..whole])
            .map_err(|_| anyhow!("the log `{name}` has bytes that are no text (UTF-8)"))?;
        let (rows, entries, unit) = read(text).map_err(|why| anyhow!("the log `{name}` {why}"))?;
        let mut log = Self { path: path.to_owned(), file, rows, end: whole as u64 };
        let is_torn = whole < bytes.len();
        if is_torn {
            log.cut().with_context(|| format!("the log `{name}` can't be written"))?;
        }
        let notice = is_torn.then(|| TORN.to_owned());
        Ok((log, Found { entries, unit, notice }))
    }

    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes an entry and syncs it to the disk. A part that was written before the fault is cut
    /// off again, if the disk lets it.
    pub fn keep(&mut self, entry: &Entry) -> io::Result<()> {
        let lines = entry.lines();
        let row = lines.trim_end().rfind('\n').map_or(0, |at| at + 1);
        let start = self.end + row as u64;
        self.append(&lines)?;
        self.rows.push(start);
        Ok(())
    }

    /// Makes the last row that counts a comment: one byte, so that no moment has half of it.
    pub fn take_back(&mut self) -> io::Result<()> {
        let Some(row) = self.rows.last() else { return Ok(()) };
        self.file.seek(SeekFrom::Start(*row))?;
        self.file.write_all(&[TAKEN_BACK as u8])?;
        self.file.sync_data()?;
        self.rows.pop();
        Ok(())
    }

    /// A log on whatever was opened.
    #[cfg(test)]
    pub fn on(file: File) -> Self {
        Self { path: PathBuf::from("hold.csv"), file, rows: Vec::new(), end: 0 }
    }

    fn append(&mut self, text: &str) -> io::Result<()> {
        self.file.seek(SeekFrom::Start(self.end))?;
        let written = self.file.write_all(text.as_bytes()).and_then(|()| self.file.sync_data());
        if written.is_err() {
            // The first fault is the one to tell.
            let _ = self.cut();
        }
        written?;
        self.end += text.len() as u64;
        Ok(())
    }

    fn cut(&mut self) -> io::Result<()> {
        self.file.set_len(self.end)
    }
}

/// All bytes of a log, if they are not too many.
fn bytes(file: &mut File) -> io::Result<Vec<u8>> {
    if file.metadata()?.len() > LARGEST {
        return Err(io::Error::new(ErrorKind::FileTooLarge, "it is larger than 64 MiB"));
    }
    let mut bytes = Vec::new();
    file.take(LARGEST).read_to_end(&mut bytes)?;
    Ok(bytes)
}

type Rows = (Vec<u64>, Vec<Entry>, UnitExpression);

/// The rows that count, with where they begin.
///
/// # Errors
/// What is wrong with the log, as the end of a sentence.
fn read(text: &str) -> Result<Rows, String> {
    let mut lines = text.split_inclusive('\n');
    let first = lines.next().unwrap_or_default();
    if first.trim_end() != FIRST_LINE {
        return Err("was not written by a watch; `dryhold rise` reads other logs".to_owned());
    }
    let second = lines.next().unwrap_or_default();
    let unit = unit_of_heading(second.trim_end())
        .and_then(|unit| parse_prompt_unit(unit, QuantityKind::PRESSURE).ok())
        .ok_or_else(|| "has no unit in its heading".to_owned())?;
    let (mut rows, mut entries, mut counted) = (Vec::new(), Vec::new(), None);
    let mut start = first.len() + second.len();
    for (number, line) in (3..).zip(lines) {
        if let Some(from) = counted_from(line.trim_end()) {
            counted = Some(from);
        } else if !line.starts_with(TAKEN_BACK) && !line.trim().is_empty() {
            let entry = entry(line.trim(), &unit, counted.take());
            entries.push(entry.ok_or_else(|| format!("has no reading in line {number}"))?);
            rows.push(start as u64);
        }
        start += line.len();
    }
    Ok((rows, entries, unit))
}

fn entry(row: &str, unit: &UnitExpression, from: Option<jiff::Timestamp>) -> Option<Entry> {
    let (at, pressure) = row.split_once(',')?;
    let cell = pressure.trim().to_owned();
    let pressure = read_line(&cell, unit).ok()?.pressure;
    Some(Entry { at: at.parse().ok()?, pressure, cell, counted_from: from })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::parse_unit;

    fn micron() -> UnitExpression {
        parse_unit("micron").unwrap()
    }

    fn entry_at(second: u32, microns: f64) -> Entry {
        Entry {
            at: format!("2026-11-25T10:05:{second:02}Z").parse().unwrap(),
            pressure: Ok(micron().to_si(microns)),
            cell: microns.to_string(),
            counted_from: (second == 0).then(|| "2026-11-25T10:00:00Z".parse().unwrap()),
        }
    }

    #[test]
    fn what_was_kept_is_found_and_what_was_taken_back_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let day = Date::constant(2026, 11, 25);
        let mut log = Log::new_in(folder.path(), day, &micron()).unwrap();
        for (second, microns) in [(0, 300.0), (10, 42.0), (20, 420.0)] {
            log.keep(&entry_at(second, microns)).unwrap();
            if microns < 100.0 {
                log.take_back().unwrap();
            }
        }
        let path = log.path().to_owned();
        assert!(path.ends_with("2026-11-25-1.csv"));
        assert!(Log::open(&path).is_err_and(|error| error.to_string().contains("open in another")));
        drop(log);
        let (mut log, found) = Log::open(&path).unwrap();
        assert_eq!(found.entries, [entry_at(0, 300.0), entry_at(20, 420.0)]);
        log.take_back().unwrap();
        log.take_back().unwrap();
        log.take_back().unwrap();
        log.keep(&entry_at(30, 500.0)).unwrap();
        drop(log);
        let found = Log::open(&path).unwrap().1.entries;
        assert_eq!((found.len(), found[0].at), (1, entry_at(30, 500.0).at));
    }

    #[test]
    fn a_log_cut_at_any_byte_keeps_every_whole_reading() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("hold.csv");
        let mut log = Log::create(&path, &micron()).unwrap();
        let heading = log.end as usize;
        (0..3).for_each(|k| log.keep(&entry_at(k, 300.0 + f64::from(k))).unwrap());
        drop(log);
        let bytes = std::fs::read(&path).unwrap();
        for cut in heading..=bytes.len() {
            std::fs::write(&path, &bytes[..cut]).unwrap();
            let lines = bytes[..cut].split_inclusive(|byte| *byte == b'\n');
            let is_whole = |line: &&[u8]| line.starts_with(b" ") && line.ends_with(b"\n");
            let whole = lines.filter(is_whole).count();
            let is_torn = !bytes[..cut].ends_with(b"\n");
            let (log, found) = Log::open(&path).unwrap();
            assert_eq!(found.entries.len(), whole, "cut at {cut}");
            assert_eq!(found.notice.is_some(), is_torn, "cut at {cut}");
            drop(log);
            let again = Log::open(&path).unwrap().1;
            assert!(again.notice.is_none() && again.entries == found.entries);
        }
    }

    /// Programs that save a table may drop blanks and end rows otherwise.
    #[test]
    fn a_log_that_was_edited_is_still_one() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("hold.csv");
        let rows = "2026-11-25T10:05:00Z,300\r\n\r\n2026-11-25T10:06:00Z,0.5 mbar\r\n";
        std::fs::write(&path, format!("{}{rows}", heading(&micron()).replace('\n', "\r\n")))
            .unwrap();
        let (mut log, found) = Log::open(&path).unwrap();
        assert_eq!(found.entries.len(), 2);
        log.take_back().unwrap();
        drop(log);
        assert_eq!(Log::open(&path).unwrap().1.entries, found.entries[..1]);
        std::fs::write(&path, format!("{}oil\n", heading(&micron()))).unwrap();
        let error = Log::open(&path).unwrap_err().to_string();
        assert!(error.ends_with("has no reading in line 3"), "{error}");
    }

    #[test]
    fn other_files_are_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("logger.csv");
        std::fs::write(&path, "time_min,pressure_micron\n0,300\n5,420").unwrap();
        let error = format!("{:#}", Log::open(&path).unwrap_err());
        assert!(error.contains("was not written by a watch"), "{error}");
        assert!(std::fs::read_to_string(&path).unwrap().ends_with("5,420"));
        assert!(Log::open(folder.path()).is_err() && Log::open(Path::new("/dev/full")).is_err());
    }

    #[test]
    fn a_full_disk_is_told() {
        let Ok(file) = OpenOptions::new().read(true).write(true).open("/dev/full") else { return };
        let mut log = Log::on(file);
        assert!(log.keep(&entry_at(0, 300.0)).is_err());
        assert!(log.rows.is_empty() && log.end == 0);
    }
}
