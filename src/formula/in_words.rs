//! A formula as people read it.

use super::resolved::{Expression, Resolved};
use super::{Checked, Facts};
use crate::text::spoken;

impl Checked {
    /// The formula as written, but its names said as words: `blank off applies and system is
    /// open`. Units keep their spelling.
    #[must_use]
    pub fn in_words(&self, facts: &dyn Facts) -> String {
        self.spoken(&self.text, facts)
    }

    /// What it says: a yes or no that has words of its own by those, else as it is written.
    #[must_use]
    pub fn said(&self, facts: &dyn Facts) -> String {
        self.part_in_words(&self.root, facts)
    }

    /// A part of it as people read it: a yes or no that has words of its own by those.
    pub(super) fn part_in_words(&self, part: &Expression, facts: &dyn Facts) -> String {
        let said = |part: &Expression| match part.form {
            Resolved::Recall(used) => facts.said(used.symbol),
            _ => None,
        };
        if let Some(said) = said(part) {
            return said;
        }
        if let Resolved::Not(inner) = &part.form
            && let Some(said) = said(inner)
        {
            return format!("it is not so that {said}");
        }
        self.spoken(self.text.get(part.range.clone()).unwrap_or(&self.text), facts)
    }

    /// A piece of its text with the names in it said as words, on one line.
    fn spoken(&self, text: &str, facts: &dyn Facts) -> String {
        let names: Vec<&str> = self.uses().iter().map(|used| facts.name(used.symbol)).collect();
        let mut words = String::new();
        for word in text.split_inclusive(|c: char| !(c.is_alphanumeric() || c == '_')) {
            let id = word.trim_end_matches(|c: char| !(c.is_alphanumeric() || c == '_'));
            if names.contains(&id) {
                words.push_str(&spoken(id));
                words.push_str(&word[id.len()..]);
            } else {
                words.push_str(word);
            }
        }
        words.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}
