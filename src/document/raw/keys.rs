//! The keys of every map that a file may hold: what stands behind each, whether it must be
//! written, and what it is for.
//!
//! The readers of [`raw`](super) take their keys from here, and so does whoever describes the
//! format to an editor; there is no other list.

mod entries;
mod files;

pub use entries::{
    ACTION_KEYS, BASIS_KEYS, CAUSE_KEYS, CAUTION_KEYS, ENTRY_KEYS, FINDING_KEYS, FORMULA_KEYS,
    INSTRUMENT_KEYS, QUESTION_KEYS, SOURCE_KEYS, TREE_KEYS,
};
pub use files::{
    ANSWERS_KEYS, BRANCH_KEYS, DOUBT_KEYS, EXPECTATION_KEYS, FILE_KEYS, RIG_KEYS, SCENARIO_KEYS,
    STEP_KEYS, STEP_KINDS, TARGET_KEYS,
};

use super::Section;

/// A key that a map may hold.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// The key as it is written.
    pub key: &'static str,
    /// What stands behind it.
    pub holds: Holds,
    /// Whether it must be written. Where one of two must be, neither is marked.
    pub is_required: bool,
    /// What it is for, in a sentence.
    pub says: &'static str,
}

/// What stands behind a key.
#[derive(Clone, Copy, Debug)]
pub enum Holds {
    /// A text: words for people, a formula or a value with its unit.
    Text,
    /// One word of a closed list.
    Word(Words),
    /// An id.
    Id,
    /// A list of ids.
    Ids,
    /// A list of texts.
    Texts,
    /// `true` or `false`.
    Flag,
    /// `true`, `false`, `yes` or `no`.
    YesNo,
    /// A whole number from 0 on.
    WholeNumber,
    /// A share: a word of the scale, or a number.
    Strength,
    /// A share for each id.
    Strengths,
    /// A factor for each id.
    Factors,
    /// A share, or a share for each choice.
    Likelihood,
    /// For each id a share, or a share for each choice.
    Likelihoods,
    /// A text for each id.
    TextById,
    /// A text for each of several words as people say them.
    TextByWords,
    /// A reason for each code.
    Waivers,
    /// For each id an answer, or a list of answers.
    Answers,
    /// Where numbers come from: an id, or an id for each key.
    Basis,
    /// What follows a step.
    Next,
    /// A step of the same tree, or another tree.
    Target,
    /// An id, or a list of ids.
    IdOrIds,
    /// A step for each id.
    Steps,
    /// An entry of this section for each id; nothing at all is an empty section.
    Entries(Section),
    /// A map with these keys.
    Map(&'static [Key]),
}

/// A closed list of words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Words {
    /// What an entry may replace.
    BuiltIn,
    /// How grave a caution is.
    Severity,
    /// What an end says of the work.
    Closes,
    /// The kinds of answers.
    Kind,
    /// The format of the handbook.
    Format,
}

/// A key that may be left out.
const fn may(key: &'static str, holds: Holds, says: &'static str) -> Key {
    Key { key, holds, is_required: false, says }
}

/// A key that must be written.
const fn must(key: &'static str, holds: Holds, says: &'static str) -> Key {
    Key { key, holds, is_required: true, says }
}
