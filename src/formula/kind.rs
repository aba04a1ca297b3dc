//! The kinds that a formula can give.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::quantity::{NAMED_KINDS, QuantityKind};

/// The choices of a question, in its own order.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ChoiceSet {
    ids: Arc<[String]>,
}

impl ChoiceSet {
    /// Choices in the order of the question.
    pub fn new(ids: impl IntoIterator<Item = String>) -> Self {
        Self { ids: ids.into_iter().collect() }
    }

    /// The ids in order.
    #[must_use]
    pub fn ids(&self) -> &[String] {
        &self.ids
    }

    /// The first three ids: `clear, low, dark ...`.
    fn shortened(&self) -> String {
        let more = if self.ids.len() > 3 { " ..." } else { "" };
        let first: Vec<&str> = self.ids.iter().take(3).map(String::as_str).collect();
        first.join(", ") + more
    }

    /// Where an id stands.
    #[must_use]
    pub fn position(&self, id: &str) -> Option<usize> {
        self.ids.iter().position(|choice| choice == id)
    }
}

/// What a formula or an answer is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Kind {
    /// A number with a dimension.
    Quantity(QuantityKind),
    /// Yes or no.
    YesNo,
    /// One of a question's choices.
    Choice(ChoiceSet),
    /// Any number of a question's choices.
    Choices(ChoiceSet),
    /// Words; only shown.
    Text,
    /// A day.
    Date,
    /// Several values of one kind, as `every(q)` gives.
    List(Box<Kind>),
    /// A series of readings over time.
    Readings(QuantityKind),
}

impl Kind {
    /// The kind that a handbook names so: a quantity by its name, `yes/no`, `text`, `date` or
    /// `readings` (of a pressure). A choice is known by its choices and not by a name alone.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let quantity = NAMED_KINDS.iter().find(|named| named.name == name);
        match (quantity, name) {
            (Some(named), _) => Some(Self::Quantity(named.kind)),
            (_, "yes/no") => Some(Self::YesNo),
            (_, "text") => Some(Self::Text),
            (_, "date") => Some(Self::Date),
            (_, "readings") => Some(Self::Readings(QuantityKind::PRESSURE)),
            _ => None,
        }
    }

    /// A choice among the words of a function's table.
    pub(super) fn word(words: &[(&str, &str)]) -> Self {
        Self::Choice(ChoiceSet::new(words.iter().map(|(word, _)| (*word).to_owned())))
    }

    /// Every name that [`named`](Self::named) knows.
    pub fn names() -> impl Iterator<Item = &'static str> {
        let others = ["yes/no", "text", "date", "readings"];
        NAMED_KINDS.iter().map(|named| named.name).chain(others)
    }

    /// `a pressure`, `a yes or no`, `a choice (clear, low, dark ...)`.
    #[must_use]
    pub fn with_article(&self) -> String {
        match self {
            Self::Quantity(quantity) => {
                let name = quantity.name();
                let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
                format!("{article} {name}")
            }
            Self::YesNo => "a yes or no".to_owned(),
            Self::Choice(set) => format!("a choice ({})", set.shortened()),
            Self::Choices(set) => format!("a set of choices ({})", set.shortened()),
            Self::Text => "a text".to_owned(),
            Self::Date => "a date".to_owned(),
            Self::List(of) => format!("a list, each {}", of.with_article()),
            Self::Readings(of) => format!("readings of {}", Kind::Quantity(*of).with_article()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_name_is_known() {
        for name in Kind::names() {
            assert!(Kind::named(name).is_some(), "{name}");
        }
        assert_eq!(Kind::named("ratio"), Some(Kind::Quantity(QuantityKind::NUMBER)));
        assert_eq!(Kind::named("choice"), None);
    }
}
