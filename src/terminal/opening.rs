//! The console of this process.

use std::io::{self, BufReader, IsTerminal};

use super::capability::Dialogue;
use super::clock::SystemClock;
use super::console::Console;
use super::input::{LineSource, PipedLines};
use super::keyboard_lines::KeyboardLines;
use super::paint::Paper;
use super::plain::PlainConsole;
use super::screen::ScreenConsole;
use super::signals;

/// Opens the console that [`super::Facts::dialogue`] chose: it reads standard input (a pipe only in
/// the plain one) and talks on standard error.
///
/// Once in a process: it also takes charge of the signals that stop it.
///
/// # Errors
/// When the system gives no thread or signal handler.
pub fn open(dialogue: Dialogue, is_coloured: bool) -> io::Result<Box<dyn Console>> {
    match dialogue {
        Dialogue::Screen => {
            signals::watch(|| false)?;
            Ok(Box::new(ScreenConsole::of_this_process(is_coloured)))
        }
        Dialogue::Plain => {
            let lines: Box<dyn LineSource> = if io::stdin().is_terminal() {
                Box::new(KeyboardLines::start()?)
            } else {
                Box::new(PipedLines::new(BufReader::new(io::stdin())))
            };
            let (talk, clock) = (Box::new(io::stderr()), Box::new(SystemClock::new()));
            let paper = Paper::of_terminal(is_coloured);
            Ok(Box::new(PlainConsole::new(lines, talk, clock, paper)))
        }
    }
}
