//! A formula as people read it.

use super::{Checked, Facts};
use crate::text::spoken;

impl Checked {
    /// The formula as written, but its names said as words: `blank off applies and system is
    /// open`. Units keep their spelling.
    #[must_use]
    pub fn in_words(&self, facts: &dyn Facts) -> String {
        let names: Vec<&str> = self.uses().iter().map(|used| facts.name(used.symbol)).collect();
        let mut words = String::new();
        for word in self.text().split_inclusive(|c: char| !(c.is_alphanumeric() || c == '_')) {
            let id = word.trim_end_matches(|c: char| !(c.is_alphanumeric() || c == '_'));
            if names.contains(&id) {
                words.push_str(&spoken(id));
                words.push_str(&word[id.len()..]);
            } else {
                words.push_str(word);
            }
        }
        words
    }
}
