//! Keeping the readings: on the disk before they count, or told that it can't be.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};

use super::entry::Entry;
use super::log::{Found, Log};
use super::state::{Effect, Heard, Watch};
use super::when::Moment;
use crate::book::Book;
use crate::cli::command_line::shell_word;
use crate::cli::session::Session;
use crate::cli::today::today;
use crate::quantity::UnitExpression;
use crate::text::{Line, Role, capital};

/// The folder of logs beside the book's.
const FOLDER: &str = "holds";

/// Where the readings go.
#[derive(Debug)]
pub(super) struct Keeping {
    log: Option<Log>,
    /// Whether the log was made by this watch, and is of no use without a reading.
    is_new: bool,
}

/// What came of something heard, once the disk has done its part.
#[derive(Debug)]
pub(super) struct Outcome {
    pub effect: Effect,
    /// Why nothing is kept from now on.
    pub fault: Option<String>,
}

impl Keeping {
    /// Opens the log that is asked for, to go on with it if it is there, or makes a new one beside
    /// the book. Where none can be made it is told, and the watch goes on without.
    ///
    /// # Errors
    /// A log that is there can't be gone on with: nothing is lost yet by saying so.
    pub fn open(
        session: &mut Session<'_>,
        asked: Option<&Path>,
        unit: &UnitExpression,
    ) -> Result<(Self, Option<Found>)> {
        if let Some(path) = asked.filter(|path| path.exists()) {
            let (log, found) = Log::open(path)?;
            return Ok((Self { log: Some(log), is_new: false }, Some(found)));
        }
        let made = match (asked, folder(session)) {
            (Some(path), _) => Log::create(path, unit)
                .with_context(|| format!("the log `{}` can't be made", path.display())),
            (None, Some(folder)) => Log::new_in(&folder, today(), unit)
                .with_context(|| format!("no log can be made in `{}`", folder.display())),
            (None, None) => Err(anyhow::anyhow!("there is no home folder to keep a log in")),
        };
        match made {
            Ok(log) => Ok((Self { log: Some(log), is_new: true }, None)),
            Err(error) => {
                let told = format!("{}. {GOES_ON}", capital(&format!("{error:#}")));
                session.tell_lines(&[Line::new().push(Role::Warning, told)])?;
                Ok((Self { log: None, is_new: false }, None))
            }
        }
    }

    pub fn path(&self) -> Option<&Path> {
        self.log.as_ref().map(Log::path)
    }

    /// Lets the watch hear something; what it wants kept is on the disk before it counts.
    pub fn hear(&mut self, watch: &mut Watch<'_>, heard: Heard, now: Moment) -> Outcome {
        let effect = watch.hear(heard, now);
        let fault = match &effect {
            Effect::Keep(entry) => self.keep(entry),
            Effect::TakeBack => self.take_back(),
            _ => return Outcome { effect, fault: None },
        };
        Outcome { effect: watch.hear(Heard::Done, now), fault }
    }

    fn keep(&mut self, entry: &Entry) -> Option<String> {
        let error = self.log.as_mut()?.keep(entry).err()?;
        Some(self.give_up(&error))
    }

    fn take_back(&mut self) -> Option<String> {
        let error = self.log.as_mut()?.take_back().err()?;
        Some(self.give_up(&error))
    }

    fn give_up(&mut self, error: &std::io::Error) -> String {
        let path = self.path().map(|path| path.display().to_string()).unwrap_or_default();
        self.log = None;
        format!("The log `{path}` can't be written: {error}. {GOES_ON}")
    }

    /// Says where the readings are, or prints them where they are kept nowhere; a new log without
    /// a reading is removed.
    pub fn close(self, session: &mut Session<'_>, watch: &Watch<'_>, json: bool) -> Result<()> {
        let Some(log) = &self.log else {
            if watch.entries().is_empty() {
                return Ok(());
            }
            let readings = watch.log();
            let told = format!("\nThe readings, which are kept nowhere else:\n{readings}");
            return if json {
                session.say(told.trim_end())
            } else {
                session.result(told.trim_end())
            };
        };
        if watch.entries().is_empty() && self.is_new {
            // An empty log that can't be removed does no harm.
            let _ = std::fs::remove_file(log.path());
            return Ok(());
        }
        let path = log.path().display();
        session.say(&format!("\nThe readings are kept in {path}"))?;
        session.say(&format!("Go on with: dryhold watch --log {}", shell_word(log.path())))
    }
}

/// What is said where nothing can be kept.
const GOES_ON: &str = "The watch goes on without it, and prints all readings at its end.";

fn folder(session: &Session<'_>) -> Option<PathBuf> {
    let book = match &session.arguments.book {
        Some(folder) => Book::at(folder),
        None => Book::of_the_platform()?,
    };
    Some(book.folder().with_file_name(FOLDER))
}

#[cfg(test)]
mod tests {
    use std::fs::OpenOptions;

    use clap::Parser;
    use jiff::Timestamp;
    use jiff::tz::Offset;

    use super::*;
    use crate::cli::rise::Wanted;
    use crate::cli::{Arguments, Command};
    use crate::quantity::parse_unit;

    #[test]
    fn a_disk_that_fills_up_stops_no_watch() {
        let Ok(full) = OpenOptions::new().read(true).write(true).open("/dev/full") else { return };
        let arguments = Arguments::try_parse_from(["dryhold", "watch"]).unwrap();
        let Some(Command::Watch(asked)) = arguments.command else { panic!("no watch") };
        let (wanted, micron) = (Wanted::of(&asked.hold).unwrap(), parse_unit("micron").unwrap());
        let mut watch = Watch::new(&wanted, micron.clone(), micron, true);
        let mut keeping = Keeping { log: Some(Log::on(full)), is_new: true };
        let now = |second: i64| Moment {
            at: Timestamp::from_second(1_700_000_000 + second).unwrap(),
            offset: Offset::UTC,
        };
        let told = keeping.hear(&mut watch, Heard::Line("420".to_owned()), now(0));
        let fault = told.fault.unwrap();
        assert!(fault.starts_with("The log `hold.csv` can't be written: "), "{fault}");
        assert!(fault.ends_with("prints all readings at its end."), "{fault}");
        let next = keeping.hear(&mut watch, Heard::Line("425".to_owned()), now(60));
        assert_eq!(next.fault, None, "it is told once");
        assert_eq!(watch.entries().len(), 2);
        assert!(keeping.path().is_none() && watch.log().ends_with(",425\n"));
    }
}
