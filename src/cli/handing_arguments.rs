//! What may be written behind the commands that hand cases over.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::book::Prefer;

/// Examples and exit statuses of `export`.
pub(super) const EXPORT_HELP: &str = "\
Examples:
  dryhold export 2026-03-31-1 --output for-the-desk.jsonl
  dryhold export 2026-03-31-1 --redact --output to-show.jsonl

The file holds every event of the case and the handbook that judges it; `dryhold import` takes it
in elsewhere. With --redact names, places, equipment, notes and free texts are left out; figures,
choices and times stay.

Exit status:
  0    written; what was left out is named
  2    there is no such case, or it or the file can't be used";

/// Arguments of `export`.
#[derive(Args, Clone, Debug)]
pub struct ExportArguments {
    /// The case, by its id or its number
    #[arg(allow_negative_numbers = true)]
    pub case: String,

    /// Leaves out names, places, equipment, notes and free texts
    #[arg(long)]
    pub redact: bool,

    /// Writes it to a file
    #[arg(long, value_name = "FILE")]
    pub output: Option<PathBuf>,

    /// Replaces the file if it is there
    #[arg(long, requires = "output")]
    pub force: bool,
}

/// Examples and exit statuses of `import`.
pub(super) const IMPORT_HELP: &str = "\
Examples:
  dryhold import from-the-site.jsonl
  dryhold import from-the-site.jsonl --prefer there
  dryhold import from-the-site.jsonl --apart

A case that the book holds already goes on with what is new. Where both went on from the same point,
the events of both are put in the order of their times; where they contradict each other nothing is
written until --prefer says whose word counts, or --apart keeps the one from the file as a case of
its own.

Exit status:
  0    taken in, or there was nothing new
  2    the file can't be used, or the two contradict each other";

/// Arguments of `import`.
#[derive(Args, Clone, Debug)]
pub struct ImportArguments {
    /// The file that was exported, or a case file
    pub file: PathBuf,

    /// Whose word counts where the two contradict each other
    #[arg(long, value_enum, conflicts_with = "apart")]
    pub prefer: Option<Preferred>,

    /// Keeps it as a case of its own, whatever the book holds
    #[arg(long)]
    pub apart: bool,
}

/// Whose word counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Preferred {
    /// That of the case in this book
    Here,
    /// That of the file
    There,
    /// Both: two answers are measurements one after the other; of anything else the later counts
    Both,
}

impl From<Preferred> for Prefer {
    fn from(preferred: Preferred) -> Self {
        match preferred {
            Preferred::Here => Self::Here,
            Preferred::There => Self::There,
            Preferred::Both => Self::Both,
        }
    }
}
