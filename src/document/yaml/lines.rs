//! The lines of a file as they are written, for faults that a parser sees too late.

use crate::document::raw::{
    ACTION_KEYS, ANSWERS_KEYS, BASIS_KEYS, BRANCH_KEYS, CAUSE_KEYS, CAUTION_KEYS, DOUBT_KEYS,
    ENTRY_KEYS, EXPECTATION_KEYS, FILE_KEYS, FINDING_KEYS, FORMULA_KEYS, INSTRUMENT_KEYS, Key,
    QUESTION_KEYS, RIG_KEYS, SCENARIO_KEYS, SOURCE_KEYS, STEP_KEYS, TARGET_KEYS, TREE_KEYS,
};
use crate::document::shape::is_id;
use crate::source::{SourceId, Span};

const TABLES: &[&[Key]] = &[
    FILE_KEYS,
    QUESTION_KEYS,
    INSTRUMENT_KEYS,
    FORMULA_KEYS,
    FINDING_KEYS,
    CAUSE_KEYS,
    ACTION_KEYS,
    TREE_KEYS,
    CAUTION_KEYS,
    SOURCE_KEYS,
    ENTRY_KEYS,
    BASIS_KEYS,
    STEP_KEYS,
    TARGET_KEYS,
    BRANCH_KEYS,
    DOUBT_KEYS,
    ANSWERS_KEYS,
    SCENARIO_KEYS,
    EXPECTATION_KEYS,
    RIG_KEYS,
];

/// Keys behind which every line starts with an id of the author's.
const OF_IDS: &[&str] = &[
    "choices",
    "next",
    "shown_by",
    "hidden_by",
    "anyway",
    "more_if",
    "less_if",
    "brings",
    "cured_by",
    "answers",
];

/// Whether a word is a key of the format.
pub(super) fn is_known_key(word: &str) -> bool {
    TABLES.iter().any(|table| table.iter().any(|key| key.key == word))
}

/// A line with anything in it, comments and texts of blocks left out.
#[derive(Clone, Debug)]
pub(super) struct Line<'t> {
    /// The byte that it starts at.
    pub(super) start: usize,
    /// How many spaces stand before it.
    pub(super) indent: usize,
    /// Whether a dash and a space follow them.
    pub(super) has_dash: bool,
    /// The column of its key, or of its text.
    pub(super) column: usize,
    /// The key, if it starts with a word and a colon.
    pub(super) key: Option<&'t str>,
    /// What follows the key and its colon, or the dash; blanks around it left out.
    pub(super) value: &'t str,
}

impl<'t> Line<'t> {
    fn of(start: usize, line: &'t str) -> Option<Self> {
        let indent = line.len() - line.trim_start_matches(' ').len();
        let rest = line.get(indent..)?;
        let dashes = rest.len() - rest.trim_start_matches(['-', ' ']).len();
        let has_dash = rest.starts_with("- ");
        let column = if has_dash { indent + dashes } else { indent };
        let body = line.get(column..)?.trim_end();
        let colon = body.find(": ").or_else(|| body.ends_with(':').then(|| body.len() - 1));
        let key = colon.and_then(|at| body.get(..at)).filter(|key| is_word(key));
        let value = match (key, colon) {
            (Some(_), Some(at)) => body.get(at + 1..).unwrap_or("").trim(),
            _ => body,
        };
        Some(Self { start, indent, has_dash, column, key, value })
    }

    /// Whether it ends with the colon of its key, so that deeper lines follow.
    pub(super) fn opens(&self) -> bool {
        self.key.is_some() && (self.value.is_empty() || self.value.starts_with('#'))
    }

    fn starts_block(&self) -> bool {
        let value = self.value.split(" #").next().unwrap_or("").trim();
        let sign = value.trim_end_matches(['+', '-', '1', '2', '3', '4', '5', '6', '7', '8', '9']);
        matches!(sign, ">" | "|")
    }

    /// Where its key or text starts: the whole key, or one character of the text.
    pub(super) fn place(&self, id: SourceId) -> Span {
        let start = self.start + self.column;
        let first = self.value.chars().next().map_or(1, char::len_utf8);
        Span::new(id, start, start + self.key.map_or(first, str::len))
    }
}

/// A word that can be a key: no blank and no quote in it.
fn is_word(key: &str) -> bool {
    !key.is_empty() && !key.contains([' ', '"', '\'', '{', '[', '#'])
}

/// Every line up to and with the one that holds a byte.
pub(super) fn lines_to(text: &str, at: usize) -> Vec<Line<'_>> {
    let mut lines: Vec<Line<'_>> = Vec::new();
    let mut start = 0;
    let mut block: Option<usize> = None;
    for line in text.split_inclusive('\n') {
        if start > at {
            break;
        }
        let is_idle = line.trim().is_empty() || line.trim_start().starts_with('#');
        if let (false, Some(read)) = (is_idle, Line::of(start, line)) {
            block = block.filter(|column| read.indent > *column);
            if block.is_none() {
                let column = if read.has_dash { read.indent } else { read.column };
                block = read.starts_block().then_some(column);
                lines.push(read);
            }
        }
        start += line.len();
    }
    lines
}

/// The line that a line belongs to: the nearest above that is less deep and ends with its colon.
pub(super) fn parent<'l, 't>(lines: &'l [Line<'t>], of: usize) -> Option<&'l Line<'t>> {
    let inner = lines.get(of)?;
    lines.get(..of)?.iter().rev().find(|line| line.column < inner.column && line.opens())
}

/// The word at the start of a line that must be a key without its colon: a key of the format, or
/// an id where ids stand.
pub(super) fn key_without_colon<'t>(lines: &[Line<'t>], of: usize) -> Option<&'t str> {
    let line = lines.get(of).filter(|line| line.key.is_none())?;
    let word = line.value.split(' ').next().filter(|word| is_id(word))?;
    let holds_ids = || parent(lines, of).and_then(|p| p.key).is_some_and(|k| OF_IDS.contains(&k));
    (is_known_key(word) || holds_ids()).then_some(word)
}
