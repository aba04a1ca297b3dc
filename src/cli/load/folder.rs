//! The YAML files below a folder, and what keeps one of them from being read.

use std::fs::{DirEntry, File, FileType};
use std::io::Read;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow};

use super::reason;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::{MAX_FILE_BYTES, decode, is_yaml, passed_over};
use crate::source::{SourceId, Sources};
use crate::text::inert;

/// The most files that a handbook's folder may hold (limit of ours; far above any handbook).
const MOST_FILES: usize = 20_000;

/// The most bytes that the files of a handbook's folder may hold together (limit of ours: ten
/// thousand steps need a third of it).
const MOST_BYTES: usize = 8 << 20;

/// How many files that are not read are named (limit of ours).
const MOST_NAMED: usize = 20;

/// The deepest nesting of folders that is looked into (limit of ours).
const DEEPEST_FOLDER: usize = 16;

/// The files of a folder.
#[derive(Debug, Default)]
pub(in crate::cli) struct Folder {
    /// Those that could be read.
    pub files: Vec<SourceId>,
    /// Why others could not.
    pub unread: Vec<Diagnostic>,
    /// Advice on files that look like rules and are not read.
    pub advice: Vec<Diagnostic>,
}

/// Reads every YAML file below a folder, in the order of their names; links to folders are not
/// followed. A file that can't be read is a fault beside the others.
pub(in crate::cli) fn read_folder(sources: &mut Sources, folder: &Path) -> Result<Folder> {
    let Listed { paths, passed_over, advice } = list(folder)?;
    let mut read = Folder { unread: passed_over, advice, ..Folder::default() };
    if paths.is_empty() && read.unread.is_empty() {
        let title = format!("the folder `{}` holds no YAML file", folder.display());
        let fault = Diagnostic::nowhere(Code::Unreadable, title);
        read.unread.push(fault.note("files of rules and scenarios end in `.yaml` or `.yml`"));
    }
    let mut left = MOST_BYTES;
    for path in paths {
        let name = inert(&path.display().to_string());
        let text = match read_file(&path, &name) {
            Ok(text) => text,
            Err(fault) => {
                read.unread.push(fault);
                continue;
            }
        };
        let Some(rest) = left.checked_sub(text.len()) else {
            read.unread.push(too_large(folder));
            read.files.clear();
            break;
        };
        left = rest;
        read.files.push(sources.add(name, text));
    }
    Ok(read)
}

/// Every YAML file below a folder, in the order of their names; links to folders are not followed.
pub(in crate::cli) fn yaml_files(folder: &Path) -> Result<Vec<PathBuf>> {
    Ok(list(folder)?.paths)
}

/// One file, of which no more is read than a handbook's file may hold, and a little, so that
/// reading its text says that it is too large.
fn read_file(path: &Path, name: &str) -> Result<String, Diagnostic> {
    let unreadable = |why: String| {
        Diagnostic::nowhere(Code::Unreadable, format!("`{name}` can't be read: {why}"))
    };
    // A pipe or a device would keep its reader waiting.
    let is_file = match std::fs::metadata(path) {
        Ok(found) => found.is_file(),
        Err(_) if path.is_symlink() => {
            let fault = unreadable("it is a link that leads to no file".to_owned());
            return Err(fault.help("put the file itself there, or take the link away"));
        }
        Err(error) => return Err(unreadable(reason(&error))),
    };
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
        return Err(Diagnostic::nowhere(Code::TooLarge, title).note(RULES_ONLY));
    }
    decode(name, &bytes).map(str::to_owned)
}

/// What belongs into the folder of a handbook.
const RULES_ONLY: &str =
    "a folder of a handbook holds its rules only; logs and pictures lie elsewhere";

fn too_large(folder: &Path) -> Diagnostic {
    let most = MOST_BYTES >> 20;
    let title = format!("the files of `{}` hold more than {most} MiB together", folder.display());
    Diagnostic::nowhere(Code::TooLarge, title).note(format!("none was checked; {RULES_ONLY}"))
}

/// The paths below a folder, and what was passed over.
#[derive(Default)]
struct Listed {
    paths: Vec<PathBuf>,
    passed_over: Vec<Diagnostic>,
    advice: Vec<Diagnostic>,
}

fn list(folder: &Path) -> Result<Listed> {
    let mut listed = Listed::default();
    if listed.collect(folder, 0)?.is_break() {
        let title = format!("more than {MOST_FILES} YAML files lie below `{}`", folder.display());
        let fault = Diagnostic::nowhere(Code::TooLarge, title);
        listed.passed_over.push(fault.note("none of them was read"));
        listed.paths.clear();
    }
    listed.paths.sort();
    listed.advice.sort_by(|one, other| one.title.cmp(&other.title));
    Ok(listed)
}

impl Listed {
    /// Lists what is below a folder; breaks off where there are too many files.
    fn collect(&mut self, folder: &Path, depth: usize) -> Result<ControlFlow<()>> {
        if depth > DEEPEST_FOLDER {
            let title =
                format!("`{}` lies more than {DEEPEST_FOLDER} folders deep", folder.display());
            let fault = Diagnostic::nowhere(Code::TooLarge, title);
            self.passed_over.push(fault.note("it was not looked into"));
            return Ok(ControlFlow::Continue(()));
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
                if self.collect(&path, depth + 1)?.is_break() {
                    return Ok(ControlFlow::Break(()));
                }
            } else if is_yaml(&path) && !(kind.is_symlink() && path.is_dir()) {
                self.paths.push(path);
                if self.paths.len() > MOST_FILES {
                    return Ok(ControlFlow::Break(()));
                }
            } else if self.advice.len() < MOST_NAMED {
                self.advice.extend(passed_over(&path));
            }
        }
        Ok(ControlFlow::Continue(()))
    }
}
