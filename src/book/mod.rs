//! Case files on disk.
