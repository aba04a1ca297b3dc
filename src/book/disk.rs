//! What a case file needs of the disk, so that a test can let it fail.

use std::fs::File;
use std::io::Write;

/// A file that is written at its end.
pub(super) trait Disk: std::fmt::Debug {
    /// Writes bytes at the end, and returns once they are on the disk.
    fn put(&mut self, bytes: &[u8]) -> std::io::Result<()>;
    /// Cuts the file down to a length.
    fn cut(&mut self, length: u64) -> std::io::Result<()>;
}

impl Disk for File {
    fn put(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        self.write_all(bytes)?;
        self.sync_data()
    }

    fn cut(&mut self, length: u64) -> std::io::Result<()> {
        self.set_len(length)
    }
}
