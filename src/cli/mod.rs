//! The command line: arguments, exit status, one file per command.
//!
//! Results go to standard output, talk to standard error. Only this room and `terminal` write
//! anything. May import every room.

mod arguments;
mod author_arguments;
mod book_arguments;
mod cases;
mod charted;
mod check;
mod close;
mod coloured;
mod command_line;
mod compare;
mod completing;
mod completions;
mod concluding;
mod config;
mod diagnose;
mod diagnose_help;
mod eval;
mod exit;
mod export;
mod functions;
mod given;
mod graph;
mod handing_arguments;
mod hanging;
mod helping;
mod hold_arguments;
mod hold_log;
mod import;
mod lacking;
mod line_json;
mod load;
mod manual;
mod named_case;
mod named_file;
mod named_tree;
mod new;
mod parallel;
mod practice;
mod practice_arguments;
mod print;
mod rehearse;
mod report;
mod resume;
mod rise;
mod run;
mod schema;
mod session;
mod sources;
mod statuses;
mod today;
mod try_out;
mod units;
mod watch;
mod why;
mod written_file;

pub use arguments::{Arguments, Command};
pub use author_arguments::{
    GraphArguments, GraphFormat, New, NewArguments, NewEntry, NewHandbook, NewQuestion,
    NewScenario, NewTree, PrintArguments, PrintFormat, SchemaArguments, SchemaFile, SchemaFormat,
    TryArguments,
};
pub use book_arguments::{
    CasesArguments, CloseArguments, DetailArguments, ReportArguments, ReportFormat,
};
pub use coloured::Coloured;
pub use completing::{COMPLETES_FOR, complete};
pub use completions::{CompletionsArguments, ShellName};
pub use config::ConfigArguments;
pub use exit::ExitStatus;
pub use hold_arguments::{HoldArguments, Responds, WatchArguments};
pub use manual::ManualArguments;
pub use rehearse::Floor;
pub use run::run;
