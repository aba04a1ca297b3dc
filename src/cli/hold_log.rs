//! A log of a hold named as an answer: `@hold.csv`.

use std::fs::File;
use std::io::{BufReader, Read};
use std::path::Path;

use super::load::reason;
use crate::quantity::parse_unit;
use crate::series::{Given, read_log, write_csv};

/// Logs up to this length are handed on as they are, in bytes (limit of ours); of longer ones what
/// is kept of their rows.
const SHORT: u64 = 20_000;

/// Gives the logs that a file names, which lie beside it.
pub(super) fn beside(file: &Path) -> impl Fn(&str) -> Result<String, String> {
    let folder = file.parent().unwrap_or(Path::new("")).to_owned();
    move |name| named(name, &folder)
}

/// The text of a log, by its name as seen from a folder; or why it can't be read.
pub(super) fn named(name: &str, folder: &Path) -> Result<String, String> {
    let path = folder.join(name);
    let failed = |why: &str| format!("the log `{}` can't be read: {why}", path.display());
    let file = File::open(&path).map_err(|error| failed(&reason(&error)))?;
    let mut start = Vec::new();
    let mut input = BufReader::new(file);
    let read = input.by_ref().take(SHORT).read_to_end(&mut start);
    read.map_err(|error| failed(&reason(&error)))?;
    if (start.len() as u64) < SHORT {
        return String::from_utf8(start).map_err(|_| failed("it is not UTF-8 text"));
    }
    let all = BufReader::new(start.as_slice().chain(input));
    let readings = read_log(all, &Given::default()).map_err(|error| failed(&error.to_string()))?;
    let pascal = parse_unit("Pa").map_err(|_| failed("it has no unit"))?;
    Ok(write_csv(&readings, &pascal))
}
