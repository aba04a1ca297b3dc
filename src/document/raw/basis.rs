//! Where the numbers of an entry come from.

use crate::diagnostic::Diagnostic;
use crate::document::shape::{check_id, is_id, read_id};
use crate::document::{MapReader, NodeValue, Spanned};

/// What an entry says about the origin of its numbers. Whether the words are sources or marks
/// that the language knows is left to a later stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RawBasis {
    /// One word for all numbers of the entry.
    One(Spanned<String>),
    /// A word for each key that holds a number.
    ByKey(Vec<(Spanned<String>, Spanned<String>)>),
}

impl RawBasis {
    pub(super) fn read(reader: &mut MapReader<'_, '_>) -> Option<Self> {
        let entry = reader.entry("basis")?;
        if !matches!(entry.value.value, NodeValue::Map(_)) {
            return reader.id("basis").map(Self::One);
        }
        let what = format!("`basis` of {}", reader.what());
        let entries = reader.map("basis");
        let faults: &mut Vec<Diagnostic> = reader.faults();
        let mut bases = Vec::new();
        for entry in entries {
            check_id(&entry.key.text, entry.key.span, &format!("a key in {what}"), faults);
            let word = read_id(&entry.value, entry.key.span, &what, faults);
            if let (true, Some(word)) = (is_id(&entry.key.text), word) {
                bases.push((Spanned::new(entry.key.text.clone(), entry.key.span), word));
            }
        }
        Some(Self::ByKey(bases))
    }
}
