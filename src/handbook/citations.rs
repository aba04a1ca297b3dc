//! Which entries take their numbers from which source, and which from none that is published.

use crate::document::raw::{RawBasis, RawHandbook, Section};

/// The marks for numbers that no published source gives, with what each means.
pub const MARKS: [(&str, &str); 4] = [
    ("common_practice", "what the trade does, without a published source"),
    ("memory", "from memory, to be replaced by a source"),
    ("estimate", "a judgement, to be replaced by counts or measurements"),
    ("simulated", "from a simulation"),
];

/// One place that says where its numbers come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Citation {
    /// The section of the entry.
    pub section: Section,
    /// The id of the entry.
    pub entry: String,
    /// The key that the mark is for; none for the whole entry.
    pub key: Option<String>,
    /// The id of a source, or one of [`MARKS`].
    pub mark: String,
}

/// Every citation of a handbook, by section and in the order of its files.
#[must_use]
pub fn citations(written: &RawHandbook) -> Vec<Citation> {
    let mut all = Vec::new();
    let mut cite = |section: Section, id: &str, basis: Option<&RawBasis>| match basis {
        None => {}
        Some(RawBasis::One(mark)) => all.push(citation(section, id, None, &mark.value)),
        Some(RawBasis::ByKey(marks)) => {
            all.extend(
                marks
                    .iter()
                    .map(|(key, mark)| citation(section, id, Some(&key.value), &mark.value)),
            );
        }
    };
    let raw = written;
    raw.questions.iter().for_each(|q| cite(Section::Questions, &q.id.value, q.basis.as_ref()));
    raw.instruments.iter().for_each(|i| cite(Section::Instruments, &i.id.value, i.basis.as_ref()));
    raw.formulas.iter().for_each(|f| cite(Section::Formulas, &f.id.value, f.basis.as_ref()));
    raw.findings.iter().for_each(|f| cite(Section::Findings, &f.id.value, f.basis.as_ref()));
    raw.causes.iter().for_each(|c| cite(Section::Causes, &c.id.value, c.basis.as_ref()));
    raw.actions.iter().for_each(|a| cite(Section::Actions, &a.id.value, a.basis.as_ref()));
    raw.trees.iter().for_each(|t| cite(Section::Trees, &t.id.value, t.basis.as_ref()));
    all
}

fn citation(section: Section, entry: &str, key: Option<&str>, mark: &str) -> Citation {
    Citation {
        section,
        entry: entry.to_owned(),
        key: key.map(str::to_owned),
        mark: mark.to_owned(),
    }
}
