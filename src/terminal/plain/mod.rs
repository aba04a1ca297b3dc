//! Numbered lists and typed answers, a line after a line.
//!
//! For a screen reader, a dumb terminal or a pipe: nothing is redrawn, nothing blinks, and no
//! symbol carries a meaning. Works over any source of lines and any writer, so that its tests
//! drive it whole. Not for walking lists with arrow keys; that is the `screen` console.

mod confirming;
mod console;
mod menu;
mod value;
mod waiting;

#[cfg(test)]
mod tests;

pub use console::PlainConsole;
