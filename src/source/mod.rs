//! Loaded files, byte spans and the line index.
//!
//! Everything that points into a text an author wrote does so with a [`Span`]: a file and a
//! range of bytes. This room knows nothing of what the text means. It imports nothing.
//!
//! ```
//! use dryhold::source::Sources;
//! let mut sources = Sources::default();
//! let id = sources.add("rules/pump.yaml", "one\ntwo\n");
//! assert_eq!(sources.position(sources.span(id, 4, 7)), (2, 1));
//! ```

mod file;
mod span;

pub use file::{Source, Sources};
pub use span::{SourceId, Span};
