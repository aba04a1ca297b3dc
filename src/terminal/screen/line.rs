//! The line that is being typed, with the place of the cursor in it.

use unicode_width::UnicodeWidthChar;

use super::keys::Key;

/// A line and the place of the cursor, in characters.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct LineEditor {
    text: Vec<char>,
    cursor: usize,
}

impl LineEditor {
    /// A line with the cursor at its end.
    pub(super) fn new(text: &str) -> Self {
        let text: Vec<char> = text.chars().collect();
        Self { cursor: text.len(), text }
    }

    /// What is typed.
    pub(super) fn text(&self) -> String {
        self.text.iter().collect()
    }

    /// What stands before the cursor.
    pub(super) fn before(&self) -> String {
        self.text[..self.cursor].iter().collect()
    }

    /// Whether nothing is typed.
    pub(super) fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// Does what the key does to a line; most do nothing.
    pub(super) fn press(&mut self, key: Key) {
        match key {
            Key::Character(character) => {
                self.text.insert(self.cursor, character);
                self.cursor += 1;
            }
            Key::Backspace => self.erase_from(self.one_before()),
            Key::EraseWord => self.erase_from(self.word_before()),
            Key::EraseBefore => self.erase_from(0),
            Key::EraseBehind => self.text.truncate(self.cursor),
            Key::Delete if self.cursor < self.text.len() => {
                let behind = self.one_behind();
                self.text.drain(self.cursor..behind);
            }
            Key::Left => self.cursor = self.one_before(),
            Key::Right => self.cursor = self.one_behind(),
            Key::First => self.cursor = 0,
            Key::Last => self.cursor = self.text.len(),
            _ => {}
        }
    }

    fn erase_from(&mut self, start: usize) {
        self.text.drain(start..self.cursor);
        self.cursor = start;
    }

    /// The place before the character that the cursor follows, its accents with it.
    fn one_before(&self) -> usize {
        let is_base = |place: &usize| self.text[*place].width() != Some(0);
        (0..self.cursor).rev().find(is_base).unwrap_or(0)
    }

    fn one_behind(&self) -> usize {
        let is_base = |place: &usize| self.text[*place].width() != Some(0);
        (self.cursor + 1..self.text.len()).find(is_base).unwrap_or(self.text.len())
    }

    fn word_before(&self) -> usize {
        let before = &self.text[..self.cursor];
        let word = before.iter().rposition(|c| !c.is_whitespace()).map_or(0, |last| last + 1);
        let blank = before[..word].iter().rposition(|c| c.is_whitespace());
        blank.map_or(0, |blank| blank + 1)
    }
}

/// How many characters a key takes from the end of what is typed.
pub(super) fn erased(typed: &str, key: Key) -> usize {
    let mut line = LineEditor::new(typed);
    line.press(key);
    typed.chars().count().saturating_sub(line.text().chars().count())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pressed(text: &str, keys: &[Key]) -> (String, String) {
        let mut line = LineEditor::new(text);
        keys.iter().for_each(|key| line.press(*key));
        (line.before(), line.text()[line.before().len()..].to_owned())
    }

    #[test]
    fn a_line_is_edited_as_at_a_shell() {
        let word_back = [Key::Left, Key::Left, Key::Left, Key::Left];
        let table: [(&[Key], &str, &str); 8] = [
            (&[Key::EraseBefore], "", ""),
            (&[Key::EraseWord], "An ", ""),
            (&[Key::EraseWord, Key::EraseWord], "", ""),
            (&[Key::Backspace], "An Ber", ""),
            (&[Key::First, Key::Delete], "", "n Berg"),
            (&[Key::First, Key::Right, Key::EraseBehind], "A", ""),
            (&[Key::First, Key::EraseBehind, Key::Backspace], "", ""),
            (&[Key::Up, Key::Escape, Key::Right, Key::Last], "An Berg", ""),
        ];
        for (keys, before, behind) in table {
            assert_eq!(pressed("An Berg", keys), (before.into(), behind.into()), "{keys:?}");
        }
        let keys = [&word_back[..], &[Key::EraseBefore, Key::Character('J')]].concat();
        assert_eq!(pressed("An Berg", &keys), ("J".into(), "Berg".into()));
    }

    #[test]
    fn an_accent_goes_with_its_letter() {
        assert_eq!(pressed("Ane\u{301}", &[Key::Backspace]).0, "An");
        assert_eq!(pressed("e\u{301}n", &[Key::First, Key::Delete]).1, "n");
    }

    #[test]
    fn what_is_erased_at_the_end_is_counted() {
        assert_eq!(erased("why not", Key::EraseWord), 3);
        assert_eq!(erased("why not", Key::EraseBefore), 7);
        assert_eq!(erased("", Key::Backspace), 0);
        assert_eq!(erased("a", Key::Left), 0);
    }
}
