//! What happens when the process is told to stop.
//!
//! A prompt that reads lines leaves Ctrl-C to the system, which makes a signal of it; a prompt
//! that reads keys holds the terminal in raw mode, which must not outlive the process.

use std::io::{self, Write};
use std::sync::atomic::{AtomicBool, Ordering};

/// Shows the cursor and ends bracketed paste (the sequences of ECMA-48 private modes 25 and
/// 2004, as common terminals have them).
const SHOW_AGAIN: &[u8] = b"\x1b[?25h\x1b[?2004l";

/// Wraps long rows again (mode 7) and leaves the other screen (mode 1049), beside which nothing
/// of the first one is lost.
const FIRST_SCREEN: &[u8] = b"\x1b[?7h\x1b[?1049l";

/// Whether the other screen is shown. Asking to leave it where it is not would move the cursor.
static IS_OTHER_SCREEN: AtomicBool = AtomicBool::new(false);

/// From now on, restoring the terminal also leaves its other screen.
pub(super) fn note_other_screen() {
    IS_OTHER_SCREEN.store(true, Ordering::SeqCst);
}

/// Gives the terminal back as it was before a key was read, if it is held.
pub(super) fn restore_terminal() {
    if crossterm::terminal::is_raw_mode_enabled().unwrap_or(false) {
        let _ = crossterm::terminal::disable_raw_mode();
        let mut terminal = io::stderr();
        if IS_OTHER_SCREEN.swap(false, Ordering::SeqCst) {
            let _ = terminal.write_all(FIRST_SCREEN);
        }
        let _ = terminal.write_all(SHOW_AGAIN);
        let _ = terminal.flush();
    }
}

/// From now on, asks `on_interrupt` about every Ctrl-C: if it says that it was heard, the process
/// goes on. Any other signal to stop restores the terminal and then stops the process as it would
/// have. Lasts as long as the process.
#[cfg(unix)]
pub(super) fn watch(on_interrupt: impl Fn() -> bool + Send + 'static) -> io::Result<()> {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    let mut signals = signal_hook::iterator::Signals::new([SIGINT, SIGTERM, SIGHUP])?;
    std::thread::Builder::new().name("signals".to_owned()).spawn(move || {
        for signal in signals.forever() {
            if signal == SIGINT && on_interrupt() {
                continue;
            }
            restore_terminal();
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    })?;
    Ok(())
}

/// Nothing to watch: on this system a signal ends the process and its console with it.
#[cfg(not(unix))]
pub(super) fn watch(_on_interrupt: impl Fn() -> bool + Send + 'static) -> io::Result<()> {
    Ok(())
}
