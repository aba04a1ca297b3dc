//! A screen that shows something that goes on, with a field to type in below it.
//!
//! [`LiveScreen`] takes the whole terminal, draws rows, and says what happened: a line was typed,
//! the terminal has another size, time has passed. It gives the terminal back as it was. What the
//! rows say is decided by whoever draws them. [`keyboard_lines`] is its twin where nothing can be
//! drawn.

mod field;
mod screen;

pub use screen::{LiveEvent, LiveScreen};

use std::io;

use super::input::LineSource;
use super::keyboard_lines::KeyboardLines;

/// Lines of standard input, a terminal or not. A Ctrl-C is heard as the next of them, also where
/// none is awaited; a second one before that ends the process.
///
/// Once in a process: it also takes charge of the signals that stop it.
///
/// # Errors
/// When the system gives no thread or signal handler.
pub fn keyboard_lines() -> io::Result<Box<dyn LineSource>> {
    Ok(Box::new(KeyboardLines::start()?))
}
