//! A field to type one line in.

use crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};
use unicode_width::UnicodeWidthStr;

/// The longest line that is taken, in characters; what is typed beyond is dropped (limit of
/// ours).
const LONGEST: usize = 200;

/// What a key did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Pressed {
    /// Enter, on this line.
    Line(String),
    /// Changed the field.
    Changed,
    /// Ctrl-C.
    Interrupt,
    /// Ctrl-D in an empty field.
    End,
    /// Nothing that is known here.
    Nothing,
}

/// The line and the place of the cursor in it, in characters.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Field {
    text: Vec<char>,
    cursor: usize,
    /// Whether the line was refused and no key has changed it since.
    is_refused: bool,
}

impl Field {
    pub fn clear(&mut self) {
        *self = Self::default();
    }

    /// Keeps a line that was refused: a key that edits corrects it, a character typed next begins
    /// another one.
    pub fn refuse(&mut self) {
        self.is_refused = true;
    }

    /// What fits into so many columns, and the column of the cursor in it. A line that is too long
    /// shows the part that ends with the cursor.
    pub fn shown(&self, room: usize) -> (String, usize) {
        let before: String = self.text[..self.cursor].iter().collect();
        let mut start = 0;
        while self.text[start..self.cursor].iter().collect::<String>().width() >= room.max(1)
            && start < self.cursor
        {
            start += 1;
        }
        if start == 0 {
            let mut shown = before.clone();
            for character in &self.text[self.cursor..] {
                shown.push(*character);
                if shown.width() > room {
                    shown.pop();
                    break;
                }
            }
            return (shown, before.width());
        }
        let shown: String = self.text[start..self.cursor].iter().collect();
        let column = shown.width();
        (shown, column)
    }

    pub fn press(&mut self, key: &KeyEvent) -> Pressed {
        if key.kind == KeyEventKind::Release {
            return Pressed::Nothing;
        }
        if self.is_refused && is_typed(key) {
            self.clear();
        }
        let pressed = self.press_any(key);
        if pressed == Pressed::Changed {
            self.is_refused = false;
        }
        pressed
    }

    fn press_any(&mut self, key: &KeyEvent) -> Pressed {
        if key.modifiers.contains(KeyModifiers::CONTROL) {
            return self.press_control(key.code);
        }
        match key.code {
            KeyCode::Enter => Pressed::Line(self.text.iter().collect()),
            KeyCode::Char(character) => self.insert(character),
            KeyCode::Backspace if self.cursor > 0 => {
                self.cursor -= 1;
                self.text.remove(self.cursor);
                Pressed::Changed
            }
            KeyCode::Delete if self.cursor < self.text.len() => {
                self.text.remove(self.cursor);
                Pressed::Changed
            }
            KeyCode::Left => self.move_to(self.cursor.saturating_sub(1)),
            KeyCode::Right => self.move_to(self.cursor + 1),
            KeyCode::Home => self.move_to(0),
            KeyCode::End => self.move_to(self.text.len()),
            KeyCode::Esc => {
                self.clear();
                Pressed::Changed
            }
            _ => Pressed::Nothing,
        }
    }

    fn press_control(&mut self, code: KeyCode) -> Pressed {
        match code {
            KeyCode::Char('c') => Pressed::Interrupt,
            KeyCode::Char('d') if self.text.is_empty() => Pressed::End,
            // Ctrl-J and Ctrl-M are what Enter sends on some terminals.
            KeyCode::Char('j' | 'm') => Pressed::Line(self.text.iter().collect()),
            KeyCode::Char('h') if self.cursor > 0 => {
                self.cursor -= 1;
                self.text.remove(self.cursor);
                Pressed::Changed
            }
            KeyCode::Char('u') => {
                self.text.drain(..self.cursor);
                self.cursor = 0;
                Pressed::Changed
            }
            KeyCode::Char('a') => self.move_to(0),
            KeyCode::Char('e') => self.move_to(self.text.len()),
            _ => Pressed::Nothing,
        }
    }

    fn insert(&mut self, character: char) -> Pressed {
        if self.text.len() >= LONGEST || character.is_control() {
            return Pressed::Nothing;
        }
        self.text.insert(self.cursor, character);
        self.cursor += 1;
        Pressed::Changed
    }

    fn move_to(&mut self, cursor: usize) -> Pressed {
        self.cursor = cursor.min(self.text.len());
        Pressed::Changed
    }
}

/// Whether the key puts a character into the line.
fn is_typed(key: &KeyEvent) -> bool {
    let is_plain = !key.modifiers.contains(KeyModifiers::CONTROL);
    is_plain && matches!(key.code, KeyCode::Char(character) if !character.is_control())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(code: KeyCode) -> KeyEvent {
        KeyEvent::new(code, KeyModifiers::NONE)
    }

    fn typed(text: &str) -> Field {
        let mut field = Field::default();
        for character in text.chars() {
            field.press(&key(KeyCode::Char(character)));
        }
        field
    }

    #[test]
    fn a_line_can_be_corrected_anywhere() {
        let mut field = typed("42O micron");
        for _ in 0..7 {
            field.press(&key(KeyCode::Left));
        }
        field.press(&key(KeyCode::Backspace));
        field.press(&key(KeyCode::Char('0')));
        assert_eq!(field.press(&key(KeyCode::Enter)), Pressed::Line("420 micron".to_owned()));
        assert_eq!(field.shown(30), ("420 micron".to_owned(), 3), "it stays until it is cleared");
        field.press(&key(KeyCode::Home));
        field.press(&key(KeyCode::Delete));
        assert_eq!(field.shown(30), ("20 micron".to_owned(), 0));
        field.press(&KeyEvent::new(KeyCode::Char('e'), KeyModifiers::CONTROL));
        field.press(&KeyEvent::new(KeyCode::Char('u'), KeyModifiers::CONTROL));
        assert_eq!(field, Field::default());
    }

    #[test]
    fn after_a_refusal_typing_begins_anew_and_editing_corrects() {
        let refused = |text: &str| {
            let mut field = typed(text);
            field.refuse();
            field
        };
        let mut field = refused("402 bananas");
        for character in "402".chars() {
            field.press(&key(KeyCode::Char(character)));
        }
        assert_eq!(field, typed("402"), "only the first character begins another line");
        for edit in [KeyCode::Left, KeyCode::Right, KeyCode::Home, KeyCode::End] {
            let mut field = refused("4 2");
            field.press(&key(edit));
            field.press(&key(KeyCode::Char('0')));
            assert_eq!(field.shown(30).0.len(), 4, "{edit:?} corrects");
        }
        let mut field = refused("42O");
        field.press(&key(KeyCode::Backspace));
        field.press(&key(KeyCode::Char('0')));
        assert_eq!(field, typed("420"));
        let mut field = refused("42O");
        assert_eq!(field.press(&key(KeyCode::Enter)), Pressed::Line("42O".to_owned()));
        field.press(&key(KeyCode::Tab));
        field.press(&key(KeyCode::Char('7')));
        assert_eq!(field, typed("7"), "neither Enter nor a key without a use corrects");
    }

    #[test]
    fn what_does_not_fit_is_cut_around_the_cursor() {
        let field = typed("10:05:30 420 micron");
        let (shown, column) = field.shown(10);
        assert_eq!((shown.as_str(), column), ("20 micron", 9));
        let mut field = typed("0123456789");
        field.press(&key(KeyCode::Home));
        assert_eq!(field.shown(4), ("0123".to_owned(), 0));
        assert_eq!(field.shown(0).1, 0);
    }

    #[test]
    fn ctrl_d_ends_only_where_nothing_is_typed() {
        let end = KeyEvent::new(KeyCode::Char('d'), KeyModifiers::CONTROL);
        assert_eq!(Field::default().press(&end), Pressed::End);
        assert_eq!(typed("4").press(&end), Pressed::Nothing);
        let interrupt = KeyEvent::new(KeyCode::Char('c'), KeyModifiers::CONTROL);
        assert_eq!(typed("4").press(&interrupt), Pressed::Interrupt);
    }

    #[test]
    fn a_line_has_an_end() {
        assert_eq!(typed(&"4".repeat(500)).shown(1000).0.len(), LONGEST);
    }
}
