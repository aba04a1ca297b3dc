//! Single keys.

use std::collections::VecDeque;
use std::io;
use std::time::{Duration, Instant};

use crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, poll, read};
use crossterm::terminal::{disable_raw_mode, enable_raw_mode};

/// A key that means something here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Key {
    /// A character; a line break only where it was pasted.
    Character(char),
    /// Enter.
    Enter,
    /// Backspace.
    Backspace,
    /// Delete: the character behind the cursor.
    Delete,
    /// Ctrl-W: the word before the cursor.
    EraseWord,
    /// Ctrl-U: all before the cursor.
    EraseBefore,
    /// Ctrl-K: all behind the cursor.
    EraseBehind,
    /// The arrow to the left.
    Left,
    /// The arrow to the right.
    Right,
    /// The Home key, or Ctrl-A.
    First,
    /// The End key, or Ctrl-E.
    Last,
    /// The arrow up.
    Up,
    /// The arrow down.
    Down,
    /// A page up.
    PageUp,
    /// A page down.
    PageDown,
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

    /// What is left of a text that was pasted at once.
    fn pasted(&mut self) -> String {
        String::new()
    }
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

    pub(super) fn pasted(&mut self) -> String {
        self.0.pasted()
    }
}

impl Drop for Held<'_> {
    fn drop(&mut self) {
        self.0.release();
    }
}

/// The keys of the process's terminal.
#[derive(Debug, Default)]
pub(super) struct TerminalKeys {
    /// What is left of a text that was pasted at once.
    pasted: VecDeque<char>,
}

impl Keys for TerminalKeys {
    fn hold(&mut self) -> io::Result<()> {
        enable_raw_mode()
    }

    fn release(&mut self) {
        let _ = disable_raw_mode();
    }

    fn pasted(&mut self) -> String {
        self.pasted.drain(..).collect()
    }

    fn next(&mut self, limit: Option<Duration>) -> io::Result<Option<Key>> {
        let start = Instant::now();
        loop {
            if let Some(character) = self.pasted.pop_front() {
                return Ok(Some(Key::Character(character)));
            }
            if let Some(limit) = limit {
                let left = limit.saturating_sub(start.elapsed());
                if !poll(left)? {
                    return Ok(None);
                }
            }
            // A resize or an unknown key is no answer: go on for what is left of the time.
            match read()? {
                Event::Paste(text) => self.pasted.extend(unbroken(&text).chars()),
                event => {
                    if let Some(key) = key_of(&event) {
                        return Ok(Some(key));
                    }
                }
            }
        }
    }
}

fn key_of(event: &Event) -> Option<Key> {
    let Event::Key(KeyEvent { code, modifiers, kind, .. }) = event else { return None };
    if *kind == KeyEventKind::Release {
        return None;
    }
    if modifiers.contains(KeyModifiers::CONTROL) {
        return control_of(*code);
    }
    match code {
        // Alt with a letter is nobody's letter.
        KeyCode::Char(_) if modifiers.contains(KeyModifiers::ALT) => None,
        KeyCode::Char(character) => Some(Key::Character(*character)),
        KeyCode::Enter => Some(Key::Enter),
        KeyCode::Esc => Some(Key::Escape),
        KeyCode::Backspace => Some(Key::Backspace),
        KeyCode::Delete => Some(Key::Delete),
        KeyCode::Left => Some(Key::Left),
        KeyCode::Right => Some(Key::Right),
        KeyCode::Home => Some(Key::First),
        KeyCode::End => Some(Key::Last),
        KeyCode::Up => Some(Key::Up),
        KeyCode::Down => Some(Key::Down),
        KeyCode::PageUp => Some(Key::PageUp),
        KeyCode::PageDown => Some(Key::PageDown),
        _ => None,
    }
}

/// What a key does with Ctrl held: what it does at a shell, or nothing. It never types its letter.
fn control_of(code: KeyCode) -> Option<Key> {
    match code {
        KeyCode::Char('c') => Some(Key::Interrupt),
        KeyCode::Char('d') => Some(Key::End),
        // Ctrl-J and Ctrl-M are what Enter sends on some terminals, Ctrl-H what Backspace does.
        KeyCode::Char('j' | 'm') | KeyCode::Enter => Some(Key::Enter),
        KeyCode::Char('h') => Some(Key::Backspace),
        KeyCode::Char('w') | KeyCode::Backspace => Some(Key::EraseWord),
        KeyCode::Char('u') => Some(Key::EraseBefore),
        KeyCode::Char('k') => Some(Key::EraseBehind),
        KeyCode::Char('a') => Some(Key::First),
        KeyCode::Char('e') => Some(Key::Last),
        KeyCode::Char('b') => Some(Key::Left),
        KeyCode::Char('f') => Some(Key::Right),
        KeyCode::Char('p') => Some(Key::Up),
        KeyCode::Char('n') => Some(Key::Down),
        _ => None,
    }
}

/// A pasted text with one kind of line break, and none at its end.
fn unbroken(text: &str) -> String {
    text.replace("\r\n", "\n").replace('\r', "\n").trim_end_matches('\n').to_owned()
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
            (KeyCode::Char('u'), KeyModifiers::CONTROL, Some(Key::EraseBefore)),
            (KeyCode::Char('w'), KeyModifiers::CONTROL, Some(Key::EraseWord)),
            (KeyCode::Char('k'), KeyModifiers::CONTROL, Some(Key::EraseBehind)),
            (KeyCode::Char('h'), KeyModifiers::CONTROL, Some(Key::Backspace)),
            (KeyCode::Char('x'), KeyModifiers::ALT, None),
            (KeyCode::Enter, KeyModifiers::NONE, Some(Key::Enter)),
            (KeyCode::Char('j'), KeyModifiers::CONTROL, Some(Key::Enter)),
            (KeyCode::Esc, KeyModifiers::NONE, Some(Key::Escape)),
            (KeyCode::Backspace, KeyModifiers::NONE, Some(Key::Backspace)),
            (KeyCode::Up, KeyModifiers::NONE, Some(Key::Up)),
            (KeyCode::F(1), KeyModifiers::NONE, None),
        ];
        for (code, modifiers, key) in table {
            assert_eq!(key_of(&event(code, modifiers)), key, "{code:?}");
        }
        assert_eq!(key_of(&Event::Resize(80, 24)), None);
    }
}
