//! The chart of a hold, printed or written to a file.

use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::Path;

use anyhow::{Context, Result, bail};

use super::session::Session;
use crate::report::{ChartLook, rise_chart, rise_svg};
use crate::rise::criterion::Criterion;
use crate::rise::{Hold, Reading};

/// What is drawn.
pub(super) struct Charted<'a> {
    pub hold: &'a Hold,
    pub reading: Option<&'a Reading>,
    pub criterion: Option<Criterion>,
}

impl Charted<'_> {
    /// Prints it as a result.
    pub fn print(&self, session: &mut Session<'_>) -> Result<()> {
        let width = session.result_paper().width();
        let look = ChartLook { width, height: None, is_ascii: session.facts.is_ascii() };
        for row in rise_chart(self.hold, self.reading, self.criterion, look) {
            session.result(&row)?;
        }
        Ok(())
    }

    /// Writes it to a file, which may be there only if it is to be replaced.
    pub fn write(&self, session: &mut Session<'_>, path: &Path, is_forced: bool) -> Result<()> {
        let name = path.display();
        let Some(svg) = rise_svg(self.hold, self.reading, self.criterion) else {
            return session.tell(&format!("Nothing is to be drawn; `{name}` was not written."));
        };
        if is_forced {
            replace(path, &svg).with_context(|| format!("the chart `{name}` can't be written"))?;
        } else if let Err(error) = create(path, &svg) {
            if error.kind() == ErrorKind::AlreadyExists {
                bail!("the chart was not written: `{name}` is there already; --force replaces it");
            }
            return Err(error).with_context(|| format!("the chart `{name}` can't be written"));
        }
        session.tell(&format!("The chart is in {name}"))
    }
}

/// Writes a new file; half a file is not left behind.
fn create(path: &Path, text: &str) -> std::io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all());
    if written.is_err() {
        // What can't be written may not let itself be removed either; the first fault is told.
        let _ = fs::remove_file(path);
    }
    written
}

/// Writes beside the file and puts the new one in its place, so that the old one stays until the
/// new one is whole.
fn replace(path: &Path, text: &str) -> std::io::Result<()> {
    let mut beside = path.as_os_str().to_owned();
    beside.push(".new");
    let beside = Path::new(&beside);
    create(beside, text)?;
    fs::rename(beside, path).inspect_err(|_| {
        let _ = fs::remove_file(beside);
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_only_if_asked_for() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("hold.svg");
        create(&path, "old").unwrap();
        assert_eq!(create(&path, "new").unwrap_err().kind(), ErrorKind::AlreadyExists);
        assert_eq!(fs::read_to_string(&path).unwrap(), "old");
        replace(&path, "new").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing else is left");
    }

    #[test]
    fn a_folder_that_is_missing_is_told() {
        let folder = tempfile::tempdir().unwrap();
        let nowhere = folder.path().join("missing").join("hold.svg");
        assert_eq!(create(&nowhere, "chart").unwrap_err().kind(), ErrorKind::NotFound);
        assert_eq!(replace(&nowhere, "chart").unwrap_err().kind(), ErrorKind::NotFound);
    }
}
