//! The tree of a YAML file, each part with its place.

use serde::{Deserialize, Serialize};

use super::Scalar;
use crate::source::Span;

/// A value with the place where it is written.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it is written.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// A value at a place.
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }
}

impl Spanned<String> {
    /// The text without its place.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.value
    }
}

/// One part of a YAML file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Node {
    /// Where it stands; for a map or list from its first to its last character.
    pub span: Span,
    /// What stands there.
    pub value: NodeValue,
}

/// What can stand in a YAML file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum NodeValue {
    /// Nothing: no value after the colon, `~` or `null`.
    Null,
    /// Something unreadable whose fault has been reported already; it counts as written, so
    /// that nobody reports it as missing.
    Faulty,
    /// A text, a number, a word.
    Scalar(Scalar),
    /// Items in order.
    List(Vec<Node>),
    /// Keys with values, in order, no key twice.
    Map(Vec<Entry>),
}

/// A key of a map with its value.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    /// The key.
    pub key: Key,
    /// What it leads to.
    pub value: Node,
}

/// The key of a map.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Key {
    /// The key as written, without quotes.
    pub text: String,
    /// Where it is written.
    pub span: Span,
}

impl Node {
    /// The entries, if this is a map.
    #[must_use]
    pub fn entries(&self) -> Option<&[Entry]> {
        match &self.value {
            NodeValue::Map(entries) => Some(entries),
            _ => None,
        }
    }

    /// The items, if this is a list.
    #[must_use]
    pub fn items(&self) -> Option<&[Node]> {
        match &self.value {
            NodeValue::List(items) => Some(items),
            _ => None,
        }
    }

    /// The text, if this is one.
    #[must_use]
    pub fn scalar(&self) -> Option<&Scalar> {
        match &self.value {
            NodeValue::Scalar(scalar) => Some(scalar),
            _ => None,
        }
    }

    /// What stands here, in words for a message: `a list`.
    #[must_use]
    pub fn shape(&self) -> &'static str {
        match &self.value {
            NodeValue::Null => "nothing",
            NodeValue::Faulty => "something unreadable",
            NodeValue::Scalar(_) => "a text",
            NodeValue::List(_) => "a list",
            NodeValue::Map(_) => "a map",
        }
    }
}
