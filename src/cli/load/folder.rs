//! The YAML files below a folder, and what keeps one of them from being read.

use std::fs::{DirEntry, File, FileType};
use std::io::Read;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};

use super::{is_yaml, reason};
use crate::diagnostic::{Code, Diagnostic};
use crate::document::{MAX_FILE_BYTES, decode};
use crate::source::{SourceId, Sources};

/// The most files that a handbook's folder may hold (limit of ours; far above any handbook).
const MOST_FILES: usize = 20_000;

/// The deepest nesting of folders that is looked into (limit of ours).
const DEEPEST_FOLDER: usize = 16;

/// The files of a folder.
#[derive(Debug, Default)]
pub(in crate::cli) struct Folder {
    /// Those that could be read.
    pub files: Vec<SourceId>,
    /// Why others could not.
    pub unread: Vec<Diagnostic>,
}

/// Reads every YAML file below a folder, in the order of their names; links to folders are not
/// followed. A file that can't be read is a fault beside the others.
pub(in crate::cli) fn read_folder(sources: &mut Sources, folder: &Path) -> Result<Folder> {
    let paths = yaml_files(folder)?;
    let mut read = Folder::default();
    if paths.is_empty() {
        let title = format!("the folder `{}` holds no YAML file", folder.display());
        let fault = Diagnostic::nowhere(Code::Unreadable, title);
        read.unread.push(fault.note("files of rules and scenarios end in `.yaml` or `.yml`"));
    }
    for path in paths {
        let name = path.display().to_string();
        match read_file(&path, &name) {
            Ok(text) => read.files.push(sources.add(name, text)),
            Err(fault) => read.unread.push(fault),
        }
    }
    Ok(read)
}

/// Every YAML file below a folder, in the order of their names; links to folders are not followed.
pub(in crate::cli) fn yaml_files(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut paths = Vec::new();
    collect(folder, 0, &mut paths)?;
    paths.sort();
    Ok(paths)
}

/// One file, of which no more is read than a handbook's file may hold, and a little, so that
/// reading its text says that it is too large.
fn read_file(path: &Path, name: &str) -> Result<String, Diagnostic> {
    let unreadable = |why: String| {
        Diagnostic::nowhere(Code::Unreadable, format!("`{name}` can't be read: {why}"))
    };
    // A pipe or a device would keep its reader waiting.
    let is_file = std::fs::metadata(path).map_err(|error| unreadable(reason(&error)))?.is_file();
    if !is_file {
        return Err(unreadable("it is no file".to_owned()));
    }
    let file = File::open(path).map_err(|error| unreadable(reason(&error)))?;
    let mut bytes = Vec::new();
    let most = MAX_FILE_BYTES as u64 + 1;
    file.take(most).read_to_end(&mut bytes).map_err(|error| unreadable(reason(&error)))?;
    if bytes.len() > MAX_FILE_BYTES {
        let title = format!(
            "`{name}` is larger than the {} KiB of a handbook's file",
            MAX_FILE_BYTES >> 10
        );
        return Err(Diagnostic::nowhere(Code::TooLarge, title)
            .note("a folder of a handbook holds its rules only; logs and pictures lie elsewhere"));
    }
    decode(name, &bytes).map(str::to_owned)
}

fn collect(folder: &Path, depth: usize, paths: &mut Vec<PathBuf>) -> Result<()> {
    if depth > DEEPEST_FOLDER {
        bail!("{} lies more than {DEEPEST_FOLDER} folders deep", folder.display());
    }
    let unreadable = |error: &std::io::Error| {
        anyhow!("the folder {} can't be read: {}", folder.display(), reason(error))
    };
    let entries = std::fs::read_dir(folder).map_err(|error| unreadable(&error))?;
    for entry in entries {
        let entry: DirEntry = entry.map_err(|error| unreadable(&error))?;
        let kind: FileType = entry.file_type().map_err(|error| unreadable(&error))?;
        let path = entry.path();
        if kind.is_dir() {
            collect(&path, depth + 1, paths)?;
        } else if is_yaml(&path) && !(kind.is_symlink() && path.is_dir()) {
            paths.push(path);
            if paths.len() > MOST_FILES {
                bail!("more than {MOST_FILES} YAML files lie below {}", folder.display());
            }
        }
    }
    Ok(())
}
