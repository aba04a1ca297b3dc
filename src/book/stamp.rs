//! What the file system says of a file, by which a change of it is noticed without reading it.

use std::fs::Metadata;
use std::time::{SystemTime, UNIX_EPOCH};

use serde::{Deserialize, Serialize};

/// Two changes of a file within this time may bear the same stamp (`estimate`: file systems keep
/// times in steps of up to 2 s).
const STEP: u128 = 2_000_000_000;

/// A file's size and times, in ns since 1970.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stamp {
    size: u64,
    written: u128,
    /// When anything about the file changed, which nobody can set; the same as `written` where the
    /// system doesn't tell.
    changed: u128,
}

impl Stamp {
    /// The stamp in a file's metadata.
    pub(super) fn of(metadata: &Metadata) -> Self {
        let written = metadata.modified().map_or(0, since_1970);
        Self { size: metadata.len(), written, changed: changed(metadata).unwrap_or(written) }
    }

    /// Whether a file with this stamp can't have changed since `looked` without the stamp showing
    /// it.
    pub(super) fn tells_changes_since(&self, looked: u128) -> bool {
        self.written.max(self.changed) + STEP < looked
    }
}

/// The time now, as stamps tell it.
pub(super) fn now() -> u128 {
    since_1970(SystemTime::now())
}

fn since_1970(time: SystemTime) -> u128 {
    time.duration_since(UNIX_EPOCH).map_or(0, |since| since.as_nanos())
}

#[cfg(unix)]
fn changed(metadata: &Metadata) -> Option<u128> {
    use std::os::unix::fs::MetadataExt;
    let seconds = u128::try_from(metadata.ctime()).ok()?;
    Some(seconds * 1_000_000_000 + u128::try_from(metadata.ctime_nsec()).ok()?)
}

#[cfg(not(unix))]
fn changed(_: &Metadata) -> Option<u128> {
    None
}
