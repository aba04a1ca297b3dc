//! The whole terminal, drawn in place.

use std::fmt;
use std::io::{self, Write};
use std::time::{Duration, Instant};

use crossterm::cursor::MoveTo;
use crossterm::event::{Event, poll, read};
use crossterm::queue;
use crossterm::style::Print;
use crossterm::terminal::{
    BeginSynchronizedUpdate, Clear, ClearType, DisableLineWrap, EndSynchronizedUpdate,
    EnterAlternateScreen, enable_raw_mode,
};
use unicode_width::UnicodeWidthStr;

use super::field::{Field, Pressed};
use crate::terminal::paint::screen_size;
use crate::terminal::signals;

/// The size taken where the terminal does not tell (common practice).
const SIZE_UNKNOWN: (usize, usize) = (80, 24);

/// What happened at the screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LiveEvent {
    /// A line was typed. It stays in the field until it is cleared, or refused and typed over.
    Line(String),
    /// The field changed, or the terminal has another size: draw again.
    Changed,
    /// The time has passed.
    Passed,
    /// Ctrl-C.
    Interrupt,
    /// Ctrl-D, or the terminal is gone.
    End,
}

/// The terminal while something goes on; given back as it was when this is dropped.
pub struct LiveScreen {
    out: Box<dyn Write>,
    field: Field,
    /// The rows that stand there, and the size they were drawn for.
    drawn: Vec<String>,
    size: (usize, usize),
}

impl LiveScreen {
    /// Takes the terminal. Once in a process: it also takes charge of the signals that stop it.
    ///
    /// # Errors
    /// When the terminal can't be taken.
    pub fn open() -> io::Result<Self> {
        signals::watch(|| false)?;
        enable_raw_mode()?;
        signals::note_other_screen();
        let mut screen = Self {
            out: Box::new(io::stderr()),
            field: Field::default(),
            drawn: Vec::new(),
            size: (0, 0),
        };
        // A terminal narrower than the rows cuts them, so that each stays one row.
        queue!(screen.out, EnterAlternateScreen, DisableLineWrap)?;
        screen.out.flush()?;
        Ok(screen)
    }

    /// Columns and rows.
    #[must_use]
    pub fn size() -> (usize, usize) {
        match screen_size() {
            (0, _) | (_, 0) => SIZE_UNKNOWN,
            (columns, rows) => (usize::from(columns), usize::from(rows)),
        }
    }

    /// Draws rows from the top, and below them the field behind a prompt. Only what has changed
    /// is written, all at once. Rows beyond the terminal are left out, the field never is.
    ///
    /// # Errors
    /// When the terminal can't be written.
    pub fn draw(&mut self, rows: &[String], prompt: &str) -> io::Result<()> {
        let size = Self::size();
        let room = size.1.saturating_sub(1);
        let mut rows: Vec<String> = rows.iter().take(room).cloned().collect();
        let (typed, column) = self.field.shown(size.0.saturating_sub(prompt.width() + 1));
        rows.push(format!("{prompt}{typed}"));
        let mut frame: Vec<u8> = Vec::new();
        queue!(frame, BeginSynchronizedUpdate)?;
        if size != self.size {
            queue!(frame, Clear(ClearType::All))?;
            self.drawn.clear();
        }
        let all = rows.len().max(self.drawn.len());
        for place in 0..all {
            let (new, old) = (rows.get(place), self.drawn.get(place));
            if new != old {
                let row = u16::try_from(place).unwrap_or(u16::MAX);
                let text = new.map_or("", String::as_str);
                // Cleared first: behind a full row the cursor stands on its last character.
                queue!(frame, MoveTo(0, row), Clear(ClearType::CurrentLine), Print(text))?;
            }
        }
        let row = u16::try_from(rows.len() - 1).unwrap_or(u16::MAX);
        let column = u16::try_from(prompt.width() + column).unwrap_or(u16::MAX);
        queue!(frame, MoveTo(column, row), EndSynchronizedUpdate)?;
        self.out.write_all(&frame)?;
        self.out.flush()?;
        (self.drawn, self.size) = (rows, size);
        Ok(())
    }

    /// Waits until something happens, at most for so long.
    pub fn next(&mut self, limit: Duration) -> LiveEvent {
        let start = Instant::now();
        loop {
            let left = limit.saturating_sub(start.elapsed());
            match poll(left) {
                Ok(true) => {}
                Ok(false) => return LiveEvent::Passed,
                Err(_) => return LiveEvent::End,
            }
            let pressed = match read() {
                Ok(Event::Key(key)) => self.field.press(&key),
                Ok(Event::Resize(..)) => return LiveEvent::Changed,
                Ok(_) => Pressed::Nothing,
                Err(_) => return LiveEvent::End,
            };
            match pressed {
                Pressed::Line(line) => return LiveEvent::Line(line),
                Pressed::Changed => return LiveEvent::Changed,
                Pressed::Interrupt => return LiveEvent::Interrupt,
                Pressed::End => return LiveEvent::End,
                Pressed::Nothing => {}
            }
        }
    }

    /// Empties the field.
    pub fn clear_field(&mut self) {
        self.field.clear();
    }

    /// Keeps the line in the field to be corrected; the next character typed begins another one.
    pub fn refuse_line(&mut self) {
        self.field.refuse();
    }

    /// Rings the terminal's bell, for whoever looks elsewhere.
    pub fn ring(&mut self) {
        // Who doesn't hear it reads it.
        let _ = self.out.write_all(b"\x07").and_then(|()| self.out.flush());
    }
}

impl Drop for LiveScreen {
    fn drop(&mut self) {
        signals::restore_terminal();
    }
}

impl fmt::Debug for LiveScreen {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("LiveScreen").field("size", &self.size).finish_non_exhaustive()
    }
}
