//! How strongly a cause shows in a finding, or brings another, in a word or a number.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::quote::shortened;
use crate::document::shape::{check_id, is_id, read_scalar};
use crate::document::{Entry, MapReader, Node, NodeValue, Spanned};
use crate::source::Span;

/// A strength as written.
#[derive(Clone, Debug, PartialEq)]
pub enum RawStrength {
    /// A word such as `usually`, not yet looked up.
    Word(Spanned<String>),
    /// A finite number, its range not yet checked.
    Number(Spanned<f64>),
}

impl RawStrength {
    /// Where it is written.
    #[must_use]
    pub fn span(&self) -> Span {
        match self {
            Self::Word(word) => word.span,
            Self::Number(number) => number.span,
        }
    }

    pub(super) fn read(
        node: &Node,
        place: Span,
        what: &str,
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Self> {
        let text = read_scalar(node, place, what, "a word or a number", faults)?;
        let word = text.text.trim();
        Some(match word.parse::<f64>() {
            Ok(number) if number.is_finite() => Self::Number(Spanned::new(number, text.span)),
            _ => Self::Word(Spanned::new(word.to_owned(), text.span)),
        })
    }
}

/// How likely the outcomes of a finding are.
#[derive(Clone, Debug, PartialEq)]
pub enum RawLikelihood {
    /// Of a yes/no finding: how likely it is true.
    One(RawStrength),
    /// Of a finding on a choice question: how likely each choice is, in the order written.
    ByChoice(Vec<(Spanned<String>, RawStrength)>),
}

impl RawLikelihood {
    /// Reads the likelihood behind a key.
    pub(super) fn read(
        node: &Node,
        place: Span,
        what: &str,
        faults: &mut Vec<Diagnostic>,
    ) -> Option<Self> {
        match &node.value {
            NodeValue::Map(entries) => {
                let before = faults.len();
                let shares = by_id(entries, what, faults);
                // Shares of which one is faulty make no whole.
                (faults.len() == before).then_some(Self::ByChoice(shares))
            }
            _ => RawStrength::read(node, place, what, faults).map(Self::One),
        }
    }
}

/// Reads a map from ids to strengths behind a key.
pub(super) fn strengths(
    reader: &mut MapReader<'_, '_>,
    key: &'static str,
) -> Vec<(Spanned<String>, RawStrength)> {
    let what = format!("`{key}` of {}", reader.what());
    let entries = reader.map(key);
    by_id(entries, &what, reader.faults())
}

/// Reads one strength behind a key.
pub(super) fn strength(reader: &mut MapReader<'_, '_>, key: &'static str) -> Option<RawStrength> {
    let what = format!("`{key}` of {}", reader.what());
    let entry = reader.entry(key)?;
    RawStrength::read(&entry.value, entry.key.span, &what, reader.faults())
}

/// Reads a map from ids to numbers behind a key.
pub(super) fn factors(
    reader: &mut MapReader<'_, '_>,
    key: &'static str,
) -> Vec<(Spanned<String>, Spanned<f64>)> {
    let mut factors = Vec::new();
    for (id, strength) in strengths(reader, key) {
        match strength {
            RawStrength::Number(number) => factors.push((id, number)),
            RawStrength::Word(word) => {
                let title = format!(
                    "`{}` in `{key}` of {} is `{}`",
                    id.value,
                    reader.what(),
                    shortened(&word.value)
                );
                let label = "a number belongs here";
                reader.fault(Diagnostic::at(Code::WrongShape, title, word.span, label));
            }
        }
    }
    factors
}

fn by_id(
    entries: &[Entry],
    what: &str,
    faults: &mut Vec<Diagnostic>,
) -> Vec<(Spanned<String>, RawStrength)> {
    let mut strengths = Vec::new();
    for Entry { key, value } in entries {
        check_id(&key.text, key.span, &format!("a name in {what}"), faults);
        let what = format!("`{}` in {what}", key.text);
        let strength = RawStrength::read(value, key.span, &what, faults);
        if let (true, Some(strength)) = (is_id(&key.text), strength) {
            strengths.push((Spanned::new(key.text.clone(), key.span), strength));
        }
    }
    strengths
}
