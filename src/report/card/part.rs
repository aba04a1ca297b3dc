//! What a card says.

/// A part of a card. Texts are without line breaks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// A heading.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// A row behind a mark, such as `3` for a step, with what it says and where it leads.
    Row {
        /// The number or letter that others refer to.
        mark: String,
        /// What it is, in a word: `ask`, `STOP`.
        kind: String,
        /// What it says.
        says: String,
        /// Where it leads, and what leads there.
        ways: Vec<String>,
    },
}

/// A card: a title, and its parts in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// What the tree is called.
    pub title: String,
    /// The parts, in the order in which they are read.
    pub parts: Vec<Part>,
}

impl Card {
    /// Every text of the card, in order.
    #[must_use]
    pub fn texts(&self) -> Vec<&str> {
        let mut texts = vec![self.title.as_str()];
        for part in &self.parts {
            match part {
                Part::Heading(text) | Part::Text(text) => texts.push(text),
                Part::Row { mark, kind, says, ways } => {
                    texts.extend([mark.as_str(), kind.as_str(), says.as_str()]);
                    texts.extend(ways.iter().map(String::as_str));
                }
            }
        }
        texts.retain(|text| !text.is_empty());
        texts
    }
}
