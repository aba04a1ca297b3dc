//! Single keys.

use std::io;
use std::time::{Duration, Instant};

use crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, poll, read};
use crossterm::terminal::{disable_raw_mode, enable_raw_mode};

/// A key that means something here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Key {
    /// A character.
    Character(char),
    /// Enter.
    Enter,
    /// Backspace.
    Backspace,
    /// Esc.
    Escape,
    /// Ctrl-C.
    Interrupt,
    /// Ctrl-D.
    End,
}

/// Where keys come from.
pub(super) trait Keys {
    /// Takes the terminal: keys come one by one and are not shown.
    fn hold(&mut self) -> io::Result<()>;

    /// Gives the terminal back.
    fn release(&mut self);

    /// Waits for a key, at most for `limit` if there is one. `None` when it has passed.
    fn next(&mut self, limit: Option<Duration>) -> io::Result<Option<Key>>;
}

/// The keys while the terminal is held; gives it back at its end, whatever ends it.
pub(super) struct Held<'k>(&'k mut dyn Keys);

impl<'k> Held<'k> {
    pub(super) fn new(keys: &'k mut dyn Keys) -> io::Result<Self> {
        keys.hold()?;
        Ok(Self(keys))
    }

    pub(super) fn next(&mut self, limit: Option<Duration>) -> io::Result<Option<Key>> {
        self.0.next(limit)
    }
}

impl Drop for Held<'_> {
    fn drop(&mut self) {
        self.0.release();
    }
}

/// The keys of the process's terminal.
#[derive(Debug, Default)]
pub(super) struct TerminalKeys;

impl Keys for TerminalKeys {
    fn hold(&mut self) -> io::Result<()> {
        enable_raw_mode()
    }

    fn release(&mut self) {
        let _ = disable_raw_mode();
    }

    fn next(&mut self, limit: Option<Duration>) -> io::Result<Option<Key>> {
        let start = Instant::now();
        loop {
            if let Some(limit) = limit {
                let left = limit.saturating_sub(start.elapsed());
                if !poll(left)? {
                    return Ok(None);
                }
            }
            // A resize or an unknown key is no answer: go on for what is left of the time.
            if let Some(key) = key_of(&read()?) {
                return Ok(Some(key));
            }
        }
    }
}

fn key_of(event: &Event) -> Option<Key> {
    let Event::Key(KeyEvent { code, modifiers, kind, .. }) = event else { return None };
    if *kind == KeyEventKind::Release {
        return None;
    }
    let is_control = modifiers.contains(KeyModifiers::CONTROL);
    match code {
        KeyCode::Char('c') if is_control => Some(Key::Interrupt),
        KeyCode::Char('d') if is_control => Some(Key::End),
        // Ctrl-J and Ctrl-M are what Enter sends on some terminals.
        KeyCode::Char('j' | 'm') if is_control => Some(Key::Enter),
        KeyCode::Char(_) if is_control => None,
        KeyCode::Char(character) => Some(Key::Character(*character)),
        KeyCode::Enter => Some(Key::Enter),
        KeyCode::Esc => Some(Key::Escape),
        KeyCode::Backspace => Some(Key::Backspace),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_mean_what_their_caps_say() {
        let event = |code, modifiers| Event::Key(KeyEvent::new(code, modifiers));
        let table = [
            (KeyCode::Char('w'), KeyModifiers::NONE, Some(Key::Character('w'))),
            (KeyCode::Char('W'), KeyModifiers::SHIFT, Some(Key::Character('W'))),
            (KeyCode::Char('c'), KeyModifiers::CONTROL, Some(Key::Interrupt)),
            (KeyCode::Char('d'), KeyModifiers::CONTROL, Some(Key::End)),
            (KeyCode::Char('d'), KeyModifiers::NONE, Some(Key::Character('d'))),
            (KeyCode::Char('z'), KeyModifiers::CONTROL, None),
            (KeyCode::Enter, KeyModifiers::NONE, Some(Key::Enter)),
            (KeyCode::Char('j'), KeyModifiers::CONTROL, Some(Key::Enter)),
            (KeyCode::Esc, KeyModifiers::NONE, Some(Key::Escape)),
            (KeyCode::Backspace, KeyModifiers::NONE, Some(Key::Backspace)),
            (KeyCode::Up, KeyModifiers::NONE, None),
        ];
        for (code, modifiers, key) in table {
            assert_eq!(key_of(&event(code, modifiers)), key, "{code:?}");
        }
        assert_eq!(key_of(&Event::Resize(80, 24)), None);
    }
}
