//! Results that are written to a file that the user names.

use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::Path;

use anyhow::{Context, Result, bail};

/// Writes a file, which may be there only if it is to be replaced; `what` begins the messages.
///
/// # Errors
/// That it is there already, or what the file system says.
pub(super) fn write_file(path: &Path, text: &str, what: &str, is_forced: bool) -> Result<()> {
    let name = path.display();
    if is_forced {
        return replace(path, text).with_context(|| format!("{what} `{name}` can't be written"));
    }
    match create(path, text) {
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            bail!("{what} was not written: `{name}` is there already; --force replaces it")
        }
        created => created.with_context(|| format!("{what} `{name}` can't be written")),
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
        let path = folder.path().join("report.html");
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
        let nowhere = folder.path().join("missing").join("report.html");
        assert_eq!(create(&nowhere, "chart").unwrap_err().kind(), ErrorKind::NotFound);
        assert_eq!(replace(&nowhere, "chart").unwrap_err().kind(), ErrorKind::NotFound);
    }
}
