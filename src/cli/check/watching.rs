//! `dryhold check --watch`: checks again whenever a file is saved.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use anyhow::Result;

use super::check;
use crate::cli::arguments::CheckArguments;
use crate::cli::exit::ExitStatus;
use crate::cli::rehearse;
use crate::cli::session::Session;
use crate::document::is_yaml;

/// How often the files are looked at.
const PAUSE: Duration = Duration::from_millis(300);

/// The deepest nesting of folders that is looked into (limit of ours).
const DEEPEST_FOLDER: usize = 16;

/// Checks now and after every change, and rehearses where the handbook is sound and there are
/// scenarios; until it is interrupted, or nobody reads what it says.
pub(super) fn watch(session: &mut Session<'_>, arguments: &CheckArguments) -> Result<ExitStatus> {
    let scenarios = arguments.scenarios.clone().unwrap_or_else(|| PathBuf::from("scenarios"));
    let watched = watched(session, arguments, &scenarios);
    let mut before = None;
    loop {
        let now = stamps(&watched);
        if before.as_ref() != Some(&now) {
            once(session, arguments, &scenarios)?;
            session.result("Waiting for the next change. Ctrl-C ends it.\n")?;
            session.flush()?;
            before = Some(now);
        }
        std::thread::sleep(PAUSE);
    }
}

/// One round; a folder that can't be read at this moment is told and looked at again.
fn once(session: &mut Session<'_>, arguments: &CheckArguments, scenarios: &Path) -> Result<()> {
    let handbook = match check(session, arguments) {
        Ok(Some(handbook)) if scenarios.exists() => handbook,
        Ok(_) => return Ok(()),
        Err(error) => return session.result(&format!("{error:#}")),
    };
    match rehearse::briefly(session, &handbook, &[scenarios.to_owned()]) {
        Ok(_) => Ok(()),
        Err(error) => session.result(&format!("{error:#}")),
    }
}

fn watched(session: &Session<'_>, arguments: &CheckArguments, scenarios: &Path) -> Vec<PathBuf> {
    let options = session.arguments;
    let mut folders: Vec<PathBuf> = options.rules.clone();
    folders.extend(options.only_rules.clone());
    folders.extend(arguments.folder.clone());
    folders.push(scenarios.to_owned());
    folders
}

/// When each YAML file was last written, and how long it is.
fn stamps(folders: &[PathBuf]) -> BTreeMap<PathBuf, (Option<SystemTime>, u64)> {
    let mut stamps = BTreeMap::new();
    for folder in folders {
        stamp(folder, 0, &mut stamps);
    }
    stamps
}

fn stamp(path: &Path, depth: usize, stamps: &mut BTreeMap<PathBuf, (Option<SystemTime>, u64)>) {
    // What can't be read now has no stamp, and a new one once it can.
    let Ok(facts) = std::fs::metadata(path) else { return };
    if facts.is_dir() && depth <= DEEPEST_FOLDER {
        for entry in std::fs::read_dir(path).into_iter().flatten().flatten() {
            let path = entry.path();
            // Links to folders are not followed.
            if !(path.is_symlink() && path.is_dir()) {
                stamp(&path, depth + 1, stamps);
            }
        }
    } else if is_yaml(path) {
        stamps.insert(path.to_owned(), (facts.modified().ok(), facts.len()));
    }
}
