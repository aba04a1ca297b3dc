//! Complete cases that a person answers at a real terminal, through the built program.

mod asides;
mod built_in;
mod closed;
mod correcting;
mod dangers;
mod desk;
mod handbook;
mod holds;
mod keeping;
mod logs;
mod plain;
mod practice;
mod rambling;
mod rounds;
mod screens;
mod stops;
mod sweeps;
mod told;
mod watch;

pub use desk::Desk;
