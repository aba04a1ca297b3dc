//! Lines typed at the process's own standard input, with Ctrl-C heard between them.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use super::input::{Heard, LineSource, read_line};
use super::signals;

/// Lines of standard input at a terminal.
///
/// A thread reads a line only when one is asked for, so nothing is taken from whoever reads
/// next. A Ctrl-C is [`Heard::Interrupt`], now or when the next line is asked for; a second one
/// before that ends the process.
pub(super) struct KeyboardLines {
    requests: Sender<()>,
    heard: Receiver<Heard>,
    /// Whether a Ctrl-C is heard rather than left to end the process.
    is_heeded: Arc<AtomicBool>,
    is_reading: bool,
}

impl KeyboardLines {
    /// Begins to listen.
    ///
    /// # Errors
    /// When the system allows no thread or no signal handler.
    pub(super) fn start() -> io::Result<Self> {
        let (requests, requested) = channel::<()>();
        let (lines, heard) = channel();
        let interrupts = lines.clone();
        thread::Builder::new().name("keyboard".to_owned()).spawn(move || {
            while requested.recv().is_ok() {
                if lines.send(read_line(&mut io::stdin().lock())).is_err() {
                    return;
                }
            }
        })?;
        let is_heeded = Arc::new(AtomicBool::new(true));
        let is_heard = Arc::clone(&is_heeded);
        signals::watch(move || {
            is_heard.swap(false, Ordering::SeqCst) && interrupts.send(Heard::Interrupt).is_ok()
        })?;
        Ok(Self { requests, heard, is_heeded, is_reading: false })
    }
}

impl LineSource for KeyboardLines {
    fn next_line(&mut self) -> Heard {
        // After an interrupt the line asked for before is still being read.
        if !self.is_reading && self.requests.send(()).is_err() {
            return Heard::End;
        }
        self.is_reading = true;
        let heard = self.heard.recv().unwrap_or(Heard::End);
        self.is_heeded.store(true, Ordering::SeqCst);
        self.is_reading = heard == Heard::Interrupt;
        heard
    }

    fn is_echoed(&self) -> bool {
        true
    }
}
