//! The configuration file: YAML, by its keys, each of which may be left out.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};
use serde::Deserialize;

use super::units::OwnUnits;
use crate::cli::arguments::For;
use crate::cli::coloured::Coloured;
use crate::cli::load::reason;

/// The largest file that is read, in bytes (limit of ours: a hundred times what all keys need).
const LARGEST: u64 = 64 << 10;

/// What a configuration file says.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub(super) struct Configuration {
    pub book: Option<PathBuf>,
    pub rules: Option<Vec<PathBuf>>,
    pub only_rules: Option<PathBuf>,
    pub plain: Option<bool>,
    pub color: Option<Coloured>,
    #[serde(rename = "for")]
    pub audience: Option<For>,
    pub units: OwnUnits,
}

/// What a file says that may not be there. Its folders are below its own, unless they begin at the
/// root or with `~`.
///
/// # Errors
/// If it is there and can't be read or used; the message says where and how to go on without it.
pub(super) fn read(path: &Path, home: Option<&Path>) -> Result<Option<Configuration>> {
    let without = "mend it, or leave it out of this run with DRYHOLD_CONFIG= before the command";
    let told = |why: &str| anyhow!("the configuration {}: {why}; {without}", path.display());
    let file = match File::open(path) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
        opened => opened.map_err(|error| told(&reason(&error)))?,
    };
    let mut bytes = Vec::new();
    file.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|error| told(&reason(&error)))?;
    if bytes.len() as u64 > LARGEST {
        return Err(told(&format!("it is larger than {} KiB", LARGEST >> 10)));
    }
    let text = String::from_utf8(bytes).map_err(|_| told("it is not UTF-8 text"))?;
    let read: Option<Configuration> =
        serde_yaml::from_str(&text).map_err(|error| told(&in_its_place(&error.to_string())))?;
    let mut read = read.unwrap_or_default();
    if read.rules.is_some() && read.only_rules.is_some() {
        bail!(told("`rules` adds to the built-in handbook and `only_rules` replaces it; keep one"));
    }
    let folder = path.parent().unwrap_or(Path::new(""));
    let rules = read.rules.iter_mut().flatten();
    for named in read.book.iter_mut().chain(&mut read.only_rules).chain(rules) {
        *named = below(folder, home, named);
    }
    Ok(Some(read))
}

/// What is wrong with the file; of a unit that stands one level too high, where it belongs.
fn in_its_place(why: &str) -> String {
    let is_unit = |measure: &&&str| why.contains(&format!("unknown field `{measure}`"));
    match ["vacuum", "temperature", "length"].iter().find(is_unit) {
        Some(measure) => {
            format!("`{measure}` stands below `units:`, as in units: {{{measure}: ...}}")
        }
        None => why.to_owned(),
    }
}

fn below(folder: &Path, home: Option<&Path>, named: &Path) -> PathBuf {
    match (named.strip_prefix("~"), home) {
        (Ok(rest), Some(home)) => home.join(rest),
        _ => folder.join(named),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folders_are_below_the_file_the_root_or_the_home() {
        let (folder, home) = (Path::new("/etc/own"), Some(Path::new("/home/kim")));
        let placed = |named: &str| below(folder, home, Path::new(named));
        assert_eq!(placed("cases"), Path::new("/etc/own/cases"));
        assert_eq!(placed("/srv/cases"), Path::new("/srv/cases"));
        assert_eq!(placed("~/cases"), Path::new("/home/kim/cases"));
        assert_eq!(placed("~kim"), Path::new("/etc/own/~kim"));
    }
}
