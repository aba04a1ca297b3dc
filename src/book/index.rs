//! The index of a book: what a list of cases needs, so that it need not read and judge each anew.
//!
//! It can be thrown away at any time: the case files are the truth. A row counts only as long as
//! its file bears the stamp that it had when the row was made.

use std::path::{Path, PathBuf};

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::folder::Book;
use super::journal::Reading;
use super::stamp::{Stamp, now};
use crate::case::{Closes, Closing, Details, Event};

/// The file, in the folder of the cases.
const FILE: &str = "list.index";

/// The format that this program writes; a new one where its rows are judged otherwise.
const FORMAT: u32 = 4;

/// The largest index that is read, in bytes; far above what a list takes.
const LARGEST: u64 = 256 * 1024 * 1024;

/// One case of a list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Row {
    /// The case's id.
    pub id: String,
    stamp: Option<Stamp>,
    looked: u128,
    /// What its file says.
    pub told: Told,
    /// What its answers amount to.
    pub judged: Judged,
}

/// What a case file says of itself.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Told {
    /// When it was begun; none if its first line can't be read.
    pub begun: Option<Timestamp>,
    /// When the last of its events happened.
    pub last: Option<Timestamp>,
    /// The hash of the handbook that it was begun with.
    pub handbook: Option<String>,
    /// How many answers were given, with those put right or taken back.
    pub answers: usize,
    /// What was told of the job.
    pub details: Details,
    /// How it was closed; none while it is open.
    pub closing: Option<Closing>,
    /// The name of the cause that it was closed with.
    pub fixed: Option<String>,
    /// What of the file can't be read and why, for people.
    pub notices: Vec<String>,
}

/// What the answers of a case amount to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Judged {
    /// The hash of the handbook that judged it; empty if none could.
    pub by: String,
    /// What came out.
    pub outcome: Outcome,
    /// What the end that it has come to says of the work, if it is one that closes it.
    #[serde(default)]
    pub work: Option<Closes>,
}

/// The outcome of a case so far.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// The work must not go on.
    Stopped {
        /// Whether a danger was told, and not only a caution waits for somebody to acknowledge it.
        is_in_danger: bool,
        /// What was found before a caution that nobody has acknowledged; none where a danger was
        /// told, from which it would only draw away.
        so_far: Option<Box<Outcome>>,
    },
    /// No answer speaks for or against a cause.
    NoEvidence,
    /// The answers can't all be true together.
    Contradiction,
    /// Something leads.
    Led {
        /// The id of the cause; none where nothing wrong leads.
        cause: Option<String>,
        /// Its name within a sentence.
        name: String,
        /// How probable it is.
        probability: f64,
        /// The causes that a repair has put an end to, by what was read after it.
        mended: Vec<Named>,
    },
    /// Repaired, and what showed it was not read again since, so that nothing leads.
    NotReadAgain(Named),
    /// It can't be judged, and why.
    NotJudged(String),
}

/// A cause by its id, and as it is called within a sentence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Named {
    /// The id.
    pub cause: String,
    /// The name.
    pub name: String,
}

impl Told {
    /// What a case file says, read as far as it can be.
    #[must_use]
    pub fn of(reading: &Reading) -> Self {
        let entries = &reading.entries;
        let events = || entries.iter().map(|entry| &entry.event);
        let is_answer = |event: &&Event| matches!(event, Event::Answered { .. });
        let handbook = entries.first().and_then(|first| match &first.event {
            Event::Opened { handbook, .. } => Some(handbook.clone()),
            _ => None,
        });
        let mut notices = reading.notices.clone();
        if handbook.is_none() && notices.is_empty() {
            notices.push(match entries.is_empty() {
                true => "The case file is empty.".to_owned(),
                false => "Line 1 of the case file: a case begins with `opened`, and this one \
                          doesn't."
                    .to_owned(),
            });
        }
        Self {
            begun: entries.first().map(|first| first.at),
            last: entries.last().map(|last| last.at),
            handbook,
            answers: events().filter(is_answer).count(),
            details: Details::of(events()),
            closing: Closing::of(events()),
            fixed: None,
            notices,
        }
    }
}

impl Row {
    /// A row about a case file as it is now, before it is read.
    #[must_use]
    pub fn before_reading(id: &str, path: &Path) -> Self {
        let outcome = Outcome::NotJudged(String::new());
        Self {
            id: id.to_owned(),
            stamp: path.metadata().ok().map(|metadata| Stamp::of(&metadata)),
            looked: now(),
            told: Told::default(),
            judged: Judged { by: String::new(), outcome, work: None },
        }
    }

    /// Whether it still tells what its file says, as far as its stamp shows.
    fn is_of(&self, stamp: Stamp) -> bool {
        self.stamp == Some(stamp) && stamp.tells_changes_since(self.looked)
    }

    /// Whether it was judged in the handbook that it was begun with, or else in this one.
    fn is_judged_by(&self, today: &str) -> bool {
        self.told.handbook.as_ref() == Some(&self.judged.by) || self.judged.by == today
    }
}

/// The first line of the file.
#[derive(Serialize, Deserialize)]
struct Header {
    v: u32,
    /// The version of the program: another may come to other numbers.
    program: String,
    /// The first 16 hexadecimal digits of the BLAKE3 hash over everything below.
    sum: String,
}

/// A book's index as it stands on the disk.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Index {
    /// The rows whose files have not changed since, by id.
    pub rows: std::collections::HashMap<String, Row>,
    /// What is wrong with the file, for people; its rows are then not used.
    pub damage: Option<String>,
}

impl Book {
    /// The rows that still hold, where cases whose own handbook can't be had are judged by `today`.
    #[must_use]
    pub fn index(&self, today: &str) -> Index {
        let path = self.path_of_index();
        if !path.exists() {
            return Index::default();
        }
        match read(&path) {
            Ok(rows) => {
                let holds = |row: &Row| {
                    let metadata = self.find_path(&row.id).and_then(|path| path.metadata().ok());
                    metadata.is_some_and(|metadata| row.is_of(Stamp::of(&metadata)))
                        && row.is_judged_by(today)
                };
                let rows = rows.into_iter().filter(holds).map(|row| (row.id.clone(), row));
                Index { rows: rows.collect(), damage: None }
            }
            Err(why) => Index { rows: Default::default(), damage: Some(why) },
        }
    }

    /// Writes the index anew; what was there before stays until the new one is whole.
    ///
    /// # Errors
    /// What the file system says.
    pub fn keep_index(&self, rows: &[Row]) -> std::io::Result<()> {
        let path = self.path_of_index();
        let mut body = String::new();
        for row in rows {
            body.push_str(&serde_json::to_string(row)?);
            body.push('\n');
        }
        let program = env!("CARGO_PKG_VERSION").to_owned();
        let header = Header { v: FORMAT, program, sum: checksum(&body) };
        let text = serde_json::to_string(&header)? + "\n" + &body;
        // Two programs may list at once; whoever is last puts its own in its place.
        let beside = path.with_extension(format!("{}.part", std::process::id()));
        let written = std::fs::write(&beside, text).and_then(|()| std::fs::rename(&beside, &path));
        written.inspect_err(|_| {
            let _ = std::fs::remove_file(&beside);
        })
    }

    fn path_of_index(&self) -> PathBuf {
        self.folder().join(FILE)
    }
}

/// The rows of a file, or why they can't be used; none if another version wrote it.
fn read(path: &Path) -> Result<Vec<Row>, String> {
    let length = path.metadata().map_err(|error| error.to_string())?.len();
    if length > LARGEST {
        return Err("it is larger than any list".to_owned());
    }
    let text = std::fs::read_to_string(path).map_err(|error| error.to_string())?;
    let (first, body) = text.split_once('\n').ok_or("it has no line")?;
    let header: Header = serde_json::from_str(first).map_err(|_| "its first line is damaged")?;
    if header.v != FORMAT || header.program != env!("CARGO_PKG_VERSION") {
        return Ok(Vec::new());
    }
    if header.sum != checksum(body) {
        return Err("its checksum doesn't fit".to_owned());
    }
    let rows: Result<Vec<Row>, _> = body.lines().map(serde_json::from_str).collect();
    rows.map_err(|error| error.to_string())
}

fn checksum(body: &str) -> String {
    blake3::hash(body.as_bytes()).to_hex()[..16].to_owned()
}
