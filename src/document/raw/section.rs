//! The sections of a handbook and the names that they share.

use super::{
    ACTION_KEYS, CAUSE_KEYS, CAUTION_KEYS, FINDING_KEYS, FORMULA_KEYS, INSTRUMENT_KEYS, Key,
    QUESTION_KEYS, SOURCE_KEYS, TREE_KEYS,
};

/// A section of a handbook.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Section {
    /// What is asked.
    Questions,
    /// What measures.
    Instruments,
    /// What is computed.
    Formulas,
    /// What counts as evidence.
    Findings,
    /// What may be wrong.
    Causes,
    /// What may be done.
    Actions,
    /// What is asked in which order.
    Trees,
    /// What could hurt.
    Cautions,
    /// Where numbers come from.
    Sources,
}

impl Section {
    /// Every section, in the order in which they are taught.
    pub const ALL: &[Section] = &[
        Section::Questions,
        Section::Instruments,
        Section::Formulas,
        Section::Findings,
        Section::Causes,
        Section::Actions,
        Section::Trees,
        Section::Cautions,
        Section::Sources,
    ];

    /// The key of the section in a file.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Section::Questions => "questions",
            Section::Instruments => "instruments",
            Section::Formulas => "formulas",
            Section::Findings => "findings",
            Section::Causes => "causes",
            Section::Actions => "actions",
            Section::Trees => "trees",
            Section::Cautions => "cautions",
            Section::Sources => "sources",
        }
    }

    /// What one entry of it is called.
    #[must_use]
    pub fn entry(self) -> &'static str {
        self.key().trim_end_matches('s')
    }

    /// One entry of it with its article.
    #[must_use]
    pub fn one_entry(self) -> String {
        let starts_with_vowel = matches!(self, Section::Instruments | Section::Actions);
        format!("{} {}", if starts_with_vowel { "an" } else { "a" }, self.entry())
    }

    /// Whether two sections share their names: questions, formulas and findings do, since a
    /// formula may use all three.
    #[must_use]
    pub fn shares_names_with(self, other: Section) -> bool {
        use Section::{Findings, Formulas, Questions};
        let is_value = |section| matches!(section, Questions | Formulas | Findings);
        self == other || (is_value(self) && is_value(other))
    }

    /// The keys of an entry of it, besides those that every entry may have.
    #[must_use]
    pub fn keys(self) -> &'static [Key] {
        match self {
            Section::Questions => QUESTION_KEYS,
            Section::Instruments => INSTRUMENT_KEYS,
            Section::Formulas => FORMULA_KEYS,
            Section::Findings => FINDING_KEYS,
            Section::Causes => CAUSE_KEYS,
            Section::Actions => ACTION_KEYS,
            Section::Trees => TREE_KEYS,
            Section::Cautions => CAUTION_KEYS,
            Section::Sources => SOURCE_KEYS,
        }
    }
}
