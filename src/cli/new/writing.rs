//! New files on the disk: none is ever overwritten.

use std::fs::{OpenOptions, create_dir_all};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};

use crate::cli::load::reason;

/// A file to be written.
pub(super) struct NewFile {
    pub path: PathBuf,
    pub text: String,
}

/// Writes files, and their folders where they are missing. If one of them is there already,
/// nothing is written.
pub(super) fn write(files: &[NewFile]) -> Result<()> {
    for file in files {
        // A link that leads nowhere is there as well.
        if file.path.symlink_metadata().is_ok() {
            bail!("{}", there_already(&file.path));
        }
    }
    files.iter().try_for_each(write_one)
}

fn write_one(file: &NewFile) -> Result<()> {
    let refused = |error: std::io::Error| match error.kind() {
        ErrorKind::AlreadyExists => anyhow!(there_already(&file.path)),
        _ => anyhow!("{} can't be written: {}", file.path.display(), reason(&error)),
    };
    if let Some(folder) = file.path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        create_dir_all(folder).map_err(|error| match error.kind() {
            ErrorKind::AlreadyExists => {
                anyhow!("{} is there, and it is no folder", folder.display())
            }
            _ => anyhow!("the folder {} can't be made: {}", folder.display(), reason(&error)),
        })?;
    }
    let mut opened =
        OpenOptions::new().write(true).create_new(true).open(&file.path).map_err(refused)?;
    opened.write_all(file.text.as_bytes()).and_then(|()| opened.sync_all()).map_err(refused)
}

fn there_already(path: &Path) -> String {
    format!(
        "{} is there already, and nothing is overwritten; choose another --id or --into",
        path.display()
    )
}
