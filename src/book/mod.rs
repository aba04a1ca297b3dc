//! Case files on disk.
//!
//! A case is one append-only file: a JSON object a line with a format version, a number, a time,
//! the event and a checksum. An event is synced to the disk before it counts as accepted, and a
//! case that is open is locked. What the disk refuses waits and is tried again with the next event.
//! The book keeps each handbook that a case was opened with once, and an index of its cases that can
//! be made anew from them. An event that a later version wrote is kept and has no effect. A torn
//! last line is dropped with a notice; any other damage is reported with its line, and everything
//! before it is kept. Imports `case`, `handbook`, `source`, `diagnostic` and `text`.

mod disk;
mod entry;
mod folder;
mod handbooks;
mod handed;
mod index;
mod joined;
mod journal;
mod stamp;
mod taking_in;

pub use entry::{Entry, FORMAT, LineFault, read_line, write_line};
pub use folder::{Book, CaseFile};
pub use handbooks::{HandbookMissing, KeptHandbook};
pub use handed::{HandedCase, HandedEvent, NotHanded};
pub use index::{Index, Judged, Named, Outcome, Row, Told};
pub use joined::{Beside, Clash, Prefer, beside, clashes, joined};
pub use journal::{Journal, JournalError, Reading, read_journal};
