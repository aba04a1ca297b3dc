//! The kinds that a formula can give.

use std::sync::Arc;

use crate::quantity::QuantityKind;

/// The choices of a question, in its own order.
#[derive(Clone, Debug, PartialEq, Eq)]
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

    /// Where an id stands.
    #[must_use]
    pub fn position(&self, id: &str) -> Option<usize> {
        self.ids.iter().position(|choice| choice == id)
    }
}

/// What a formula or an answer is.
#[derive(Clone, Debug, PartialEq, Eq)]
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
    /// `a pressure`, `a yes or no`, `one of the choices clear, low`.
    #[must_use]
    pub fn with_article(&self) -> String {
        match self {
            Self::Quantity(quantity) => {
                let name = quantity.name();
                let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
                format!("{article} {name}")
            }
            Self::YesNo => "a yes or no".to_owned(),
            Self::Choice(set) => format!("one of the choices {}", set.ids().join(", ")),
            Self::Choices(set) => format!("several of the choices {}", set.ids().join(", ")),
            Self::Text => "a text".to_owned(),
            Self::Date => "a date".to_owned(),
            Self::List(of) => format!("a list, each {}", of.with_article()),
            Self::Readings(of) => format!("readings of {}", Kind::Quantity(*of).with_article()),
        }
    }
}
