//! Loading handbooks: the built-in one, added folders, or a folder instead.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail};

use super::session::Session;
use crate::diagnostic::{Look, Severity, render};
use crate::handbook::{Compiled, Handbook, add_built_in, compile};
use crate::source::{SourceId, Sources};

/// The most files that a handbook's folder may hold (limit of ours; far above any handbook).
const MOST_FILES: usize = 20_000;

/// The deepest nesting of folders that is looked into (limit of ours).
const DEEPEST_FOLDER: usize = 16;

/// A compiled handbook with the texts it came from.
pub(super) struct Loaded {
    pub sources: Sources,
    pub compiled: Compiled,
}

/// Loads the handbook that the arguments ask for.
pub(super) fn load(session: &Session<'_>) -> Result<Loaded> {
    match &session.arguments.only_rules {
        Some(folder) => load_folder(folder),
        None => load_built_in(&session.arguments.rules),
    }
}

/// Loads a folder as a handbook of its own.
pub(super) fn load_folder(folder: &Path) -> Result<Loaded> {
    let mut sources = Sources::default();
    let files = read_folder(&mut sources, folder)?;
    let compiled = compile(&sources, &files, &[]);
    Ok(Loaded { sources, compiled })
}

fn load_built_in(added: &[PathBuf]) -> Result<Loaded> {
    let mut sources = Sources::default();
    let built_in = add_built_in(&mut sources);
    let mut more = Vec::new();
    for folder in added {
        more.extend(read_folder(&mut sources, folder)?);
    }
    let compiled = compile(&sources, &built_in, &more);
    Ok(Loaded { sources, compiled })
}

impl Loaded {
    /// The handbook, or nothing after its errors have been reported on standard error.
    pub(super) fn handbook(self, session: &mut Session<'_>) -> Result<Option<Handbook>> {
        if self.compiled.handbook.is_none() {
            let errors: Vec<_> = self
                .compiled
                .faults
                .into_iter()
                .filter(|fault| fault.severity() == Severity::Error)
                .collect();
            let look = Look { colour: session.is_talk_coloured() };
            let text = render(&errors, &self.sources, look);
            session.say(text.trim_end())?;
            return Ok(None);
        }
        Ok(self.compiled.handbook)
    }
}

/// Reads every YAML file below a folder, in the order of their names; links to folders are not
/// followed.
pub(super) fn read_folder(sources: &mut Sources, folder: &Path) -> Result<Vec<SourceId>> {
    let mut paths = Vec::new();
    collect(folder, 0, &mut paths)?;
    if paths.is_empty() {
        bail!("the folder {} holds no YAML file", folder.display());
    }
    paths.sort();
    let mut ids = Vec::new();
    for path in paths {
        let text = read_text(&path)?;
        ids.push(sources.add(path.display().to_string(), text));
    }
    Ok(ids)
}

/// Reads a file that must be UTF-8 text.
pub(super) fn read_text(path: &Path) -> Result<String> {
    let bytes = std::fs::read(path)
        .map_err(|error| anyhow!("{} can't be read: {}", path.display(), reason(&error)))?;
    String::from_utf8(bytes)
        .map_err(|_| anyhow!("{} is not UTF-8 text; save it as UTF-8", path.display()))
}

/// Why a file or folder can't be read, in words.
pub(super) fn reason(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "it is not there".to_owned(),
        ErrorKind::PermissionDenied => "you have no permission".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::NotADirectory => "it is not a folder".to_owned(),
        _ => error.to_string(),
    }
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
        let entry = entry.map_err(|error| unreadable(&error))?;
        let kind = entry.file_type().with_context(|| entry.path().display().to_string())?;
        let path = entry.path();
        if kind.is_dir() {
            collect(&path, depth + 1, paths)?;
        } else if is_yaml(&path) {
            paths.push(path);
            if paths.len() > MOST_FILES {
                bail!("more than {MOST_FILES} YAML files lie below {}", folder.display());
            }
        }
    }
    Ok(())
}

/// Whether a file's name ends in `.yaml` or `.yml`.
pub(super) fn is_yaml(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml")
}
