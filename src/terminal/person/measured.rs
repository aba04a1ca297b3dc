//! A value that is told within a sentence: `pump alone 900 micron`.

use super::weighing::telling;
use crate::case::{Case, QuestionId};
use crate::quantity::sizes_in_figures;
use crate::terminal::words::is_fraction;

/// The most words that a value takes, as in `two and a half hours` (limit of ours).
const LONGEST_VALUE: usize = 5;

/// Words with which a number may begin; such a one counts only with its unit.
const NUMBERS: [&str; 16] = [
    "half", "quarter", "an", "one", "two", "three", "four", "five", "six", "seven", "eight",
    "nine", "ten", "twelve", "twenty", "thirty",
];

/// What was typed, the value that it holds taken apart.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Measured {
    /// The words without the value.
    pub words: String,
    /// Whether the value has a unit, which says its kind.
    pub has_unit: bool,
    value: Option<String>,
    /// The questions that can be answered with it.
    readers: Vec<QuestionId>,
    /// The questions that take a value of any kind.
    takers: Vec<QuestionId>,
}

impl Measured {
    /// Looks for the one value of a text; where it holds several numbers, nobody knows which counts.
    pub fn of(case: &Case<'_>, typed: &str) -> Self {
        let takers: Vec<QuestionId> =
            case.question_ids().filter(|id| case.takes_a_quantity(*id)).collect();
        let typed = &with_inches(typed);
        let tokens: Vec<&str> = typed.split_whitespace().collect();
        let starts = (0..tokens.len()).filter(|at| begins_a_number(tokens[*at]));
        let mut values = Vec::new();
        let mut until = 0;
        for from in starts {
            if from >= until
                && let Some(value) = Value::at(case, &takers, &tokens, from)
            {
                until = value.until;
                values.push(value);
            }
        }
        let rest =
            |value: &Value| [&tokens[..value.from], &tokens[value.until..]].concat().join(" ");
        match &mut values[..] {
            [value] => Self {
                words: rest(value),
                has_unit: value.has_unit,
                value: Some(std::mem::take(&mut value.text)),
                readers: std::mem::take(&mut value.readers),
                takers,
            },
            _ => Self { words: typed.to_owned(), takers, ..Self::default() },
        }
    }

    /// The words without a value that has its unit; else all that was typed, since a bare figure may be
    /// part of a name.
    pub fn words_beside_a_measure(self, typed: &str) -> String {
        if self.has_unit { self.words } else { typed.to_owned() }
    }

    /// Whether the value answers a question; none where there is no value, or the question takes
    /// none.
    pub fn fits(&self, id: QuestionId) -> Option<bool> {
        let is_taken = self.value.is_some() && self.takers.contains(&id);
        is_taken.then(|| self.readers.contains(&id))
    }

    /// The value as it was typed.
    pub fn text(self) -> Option<String> {
        self.value
    }

    /// The value, if the other words tell nothing.
    pub fn alone(self) -> Option<String> {
        let is_alone = telling(&self.words).is_empty();
        self.value.filter(|_| is_alone)
    }

    /// The value, if it answers a question.
    pub fn value_for(&self, id: QuestionId) -> Option<String> {
        self.value.clone().filter(|_| self.readers.contains(&id))
    }
}

struct Value {
    from: usize,
    until: usize,
    text: String,
    has_unit: bool,
    readers: Vec<QuestionId>,
}

impl Value {
    /// The longest value that begins at a word.
    fn at(case: &Case<'_>, takers: &[QuestionId], tokens: &[&str], from: usize) -> Option<Self> {
        let longest = (from + LONGEST_VALUE).min(tokens.len());
        (from + 1..=longest).rev().find_map(|until| {
            let text = tokens[from..until].join(" ");
            let text = text.trim_end_matches([',', '.', ';', ':', '!']).to_owned();
            let has_unit = text.contains(char::is_alphabetic)
                && (text.starts_with(|c: char| c.is_ascii_digit()) || until > from + 1);
            let is_in_words = !text.contains(|c: char| c.is_ascii_digit());
            if is_in_words && !has_unit {
                return None;
            }
            let reads =
                |id: &&QuestionId| case.read(**id, &text).is_ok_and(|read| read.reply.is_known());
            let mut readers: Vec<QuestionId> = takers.iter().filter(reads).copied().collect();
            // Of which degrees is asked where they are taken.
            if readers.is_empty() && is_in_degrees(&text) {
                let takes_degrees = |id: &&QuestionId| {
                    case.read(**id, &text.replace("degrees", "degC"))
                        .is_ok_and(|read| read.reply.is_known())
                };
                readers = takers.iter().filter(takes_degrees).copied().collect();
            }
            (!readers.is_empty()).then_some(Self { from, until, text, has_unit, readers })
        })
    }
}

/// A fraction without a unit is a size in inches, in figures or in words: `3/8 hose`, `five eighths`.
fn with_inches(typed: &str) -> String {
    let typed = sizes_in_figures(typed);
    let tokens: Vec<&str> = typed.split_whitespace().collect();
    let has_unit = |place: usize| {
        tokens
            .get(place + 1)
            .is_some_and(|next| UNITS_OF_SIZES.contains(&next.to_lowercase().as_str()))
    };
    let told = |(place, token): (usize, &&str)| match is_fraction(token) && !has_unit(place) {
        true => format!("{token} in"),
        false => (*token).to_owned(),
    };
    tokens.iter().enumerate().map(told).collect::<Vec<_>>().join(" ")
}

/// What stands behind a fraction that has its unit.
const UNITS_OF_SIZES: [&str; 5] = ["in", "inch", "inches", "\"", "mm"];

/// `3 degrees`, without which ones.
fn is_in_degrees(text: &str) -> bool {
    text.split_once(' ').is_some_and(|(_, unit)| unit == "degrees")
}

fn begins_a_number(token: &str) -> bool {
    token.starts_with(|c: char| c.is_ascii_digit())
        || NUMBERS.contains(&token.to_lowercase().as_str())
}
