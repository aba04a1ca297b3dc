//! The command line as its users meet it: the built program in a folder of its own, with what it
//! prints and its exit status compared whole.

mod bad_input;
mod case_book;
mod cases;
mod check;
mod close;
mod compare;
mod completions;
mod config;
mod diagnose;
mod eval;
mod facts;
mod folders;
mod functions;
mod graph;
mod handing;
mod json;
mod line_json;
mod lists;
mod named_folders;
mod new;
mod picture;
mod plot;
mod practice;
mod print;
mod questions;
mod rehearse;
mod rise;
mod rough_cases;
mod scenarios;
mod schema;
mod sources;
mod stand;
mod transcript;
mod try_out;
mod usage;
mod watch;

pub use case_book::{BookStand, built_in, scenario_events};
pub use stand::{Ran, Stand};
