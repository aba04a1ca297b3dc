//! The one integration binary, a module per subject.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "the lint's own exception covers test functions, not what they call"
)]

mod analysis;
mod architecture;
mod bench;
mod cases;
mod commands;
mod dependencies;
mod diagnostics;
mod document;
mod formulas;
#[path = "../fuzz/mod.rs"]
mod fuzz;
mod handbook;
mod handbook_faults;
mod mutations;
mod network;
mod physics;
mod practice;
mod prompts;
mod readme;
mod rehearsal;
mod reports;
mod rigged;
mod rise;
mod robustness;
mod rough;
mod schema;
mod series;
mod skins;
mod slips;
mod terminal_cases;
mod units;
