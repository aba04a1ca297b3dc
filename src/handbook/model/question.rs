//! Questions, instruments and formulas: what the worksheet is made of.

use serde::{Deserialize, Serialize};

use super::{CautionId, InstrumentId, QuestionId};
use crate::formula::{Checked, CheckedTemplate, Kind, Symbol};
use crate::quantity::UnitExpression;
use crate::text::{as_said, is_called};

/// Where a number comes from.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Basis {
    /// The mark for the whole entry: a source id, `common_practice`, `memory`, `estimate` or
    /// `simulated`.
    pub whole: Option<String>,
    /// Marks of single keys that differ from the whole.
    pub by_key: Vec<(String, String)>,
}

/// One choice of a question.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Choice {
    /// The id in rules and answers files.
    pub id: String,
    /// What people read.
    pub label: String,
}

/// Words that people may type for an answer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct InWords {
    /// The words.
    pub words: String,
    /// The answer that they stand for, as it would be typed.
    pub answer: String,
}

/// The answer to a safety question that "not sure" counts as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hazard {
    /// This yes or no is the hazardous one.
    YesNo(bool),
    /// This choice is the hazardous one.
    Choice(u16),
}

/// Something that a person is asked.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Question {
    /// Its id.
    pub id: String,
    /// Its place in the table of names.
    pub symbol: Symbol,
    /// What is asked on site.
    pub ask: CheckedTemplate,
    /// What is read aloud on the phone.
    pub say: Option<CheckedTemplate>,
    /// What to listen for in a caller's answer.
    pub listen: Option<CheckedTemplate>,
    /// Why it is asked.
    pub why: Option<CheckedTemplate>,
    /// What kind of answer it takes.
    pub kind: Kind,
    /// The unit of a bare number; quantities only.
    pub unit: Option<UnitExpression>,
    /// The lowest and highest value taken, in SI units.
    pub range: Option<(f64, f64)>,
    /// Outside of this an answer is asked back, in SI units.
    pub usual: Option<(f64, f64)>,
    /// The choices in order, from normal to worst where a finding observes them.
    pub choices: Vec<Choice>,
    /// The units that a gauge's face shows, by choice: none where a choice stands for no unit.
    /// Empty where the question tells of no face.
    pub units: Vec<Option<UnitExpression>>,
    /// The smallest steps that a gauge's face shows, by choice, in SI units: none where a choice
    /// leaves the instrument's own. Empty where the question tells of no step.
    pub resolutions: Vec<Option<f64>>,
    /// Words that people may type for an answer; none means anything else here.
    pub in_words: Vec<InWords>,
    /// Choices that another question gives: where words for the choice are the answer to that one,
    /// nobody needs to be asked this one.
    pub known_by: Vec<(String, QuestionId)>,
    /// The instrument that reads it.
    pub instrument: Option<InstrumentId>,
    /// Questions whose answers tell of something else once the answer to this one has changed.
    pub outdates: Vec<QuestionId>,
    /// The readings that it asks about: where the latest of them says nothing, neither does this.
    pub about: Vec<QuestionId>,
    /// Half-width of what the same reading scatters by, in SI units.
    pub repeats: Option<f64>,
    /// For a setting: what "not sure" stands for, in SI units.
    pub not_sure: Option<(f64, f64)>,
    /// For a safety question: the answer that "not sure" counts as.
    pub hazard: Option<Hazard>,
    /// How long answering takes, in seconds.
    pub takes: Option<f64>,
    /// Cautions shown wherever it is asked.
    pub cautions: Vec<CautionId>,
    /// Where its numbers come from.
    pub basis: Basis,
}

impl Question {
    /// Whether it asks for something that stays as it is (a rating, a limit, a safety matter) and
    /// not for something observed at a moment.
    #[must_use]
    pub fn is_setting(&self) -> bool {
        self.not_sure.is_some() || self.hazard.is_some()
    }

    /// What a choice is called, by its place in the order; its number if there is none.
    #[must_use]
    pub fn choice_label(&self, choice: usize) -> String {
        self.choices.get(choice).map_or_else(|| choice.to_string(), |c| c.label.clone())
    }

    /// The answer that words stand for, as it would be typed.
    #[must_use]
    pub fn answer_in_words(&self, typed: &str) -> Option<&str> {
        let said = as_said(typed);
        let found = self.in_words.iter().find(|known| as_said(&known.words) == said);
        found.map(|known| known.answer.as_str())
    }
}

/// A choice by its id or its label, whatever the case of its letters; by what only one label is
/// called, see [`is_called`]; or by a beginning that only one label has, from three letters on also
/// without its blanks and hyphens; or by one of two words that a label is made of, as in `Cloudy or
/// milky`.
#[must_use]
pub fn find_choice<'c>(choices: &'c [Choice], typed: &str) -> Option<&'c Choice> {
    let wanted = typed.trim().to_lowercase();
    let is_exact = |c: &&Choice| c.id.to_lowercase() == wanted || c.label.to_lowercase() == wanted;
    let begins = |c: &&Choice| !wanted.is_empty() && c.label.to_lowercase().starts_with(&wanted);
    let said = as_said(typed);
    let begins_as_said = |c: &&Choice| said.len() > 2 && as_said(&c.label).starts_with(&said);
    let mut all = choices.iter();
    all.find(is_exact)
        .or_else(|| only(choices.iter().filter(|c| is_called(&c.label, typed))))
        .or_else(|| only(choices.iter().filter(begins)))
        .or_else(|| only(choices.iter().filter(begins_as_said)))
        .or_else(|| only(choices.iter().filter(|c| is_one_of_two(&c.label, &wanted))))
}

/// Whether a label is made of two words and a word is one of them. One of more words is a sentence,
/// such as `No smell or smoke`, of which a word may mean the very opposite.
fn is_one_of_two(label: &str, wanted: &str) -> bool {
    let label = label.to_lowercase();
    let Some((one, other)) = label.split_once(" or ") else { return false };
    let is_word = |part: &str| !part.contains(char::is_whitespace);
    is_word(one) && is_word(other) && [one, other].contains(&wanted)
}

/// What a search finds, if it finds one alone.
fn only<'c>(mut found: impl Iterator<Item = &'c Choice>) -> Option<&'c Choice> {
    let first = found.next();
    if found.next().is_some() { None } else { first }
}

/// Something that reads questions, with its own error that all its readings share.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Instrument {
    /// Its id.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// The choice question that says which unit its face shows.
    pub face: Option<QuestionId>,
    /// Half-width of its scale error, a ratio; may name questions.
    pub scale: Option<Checked>,
    /// Half-width of its offset, of the kind that it reads; may name questions.
    pub offset: Option<Checked>,
    /// The step between two readings it can show, of the kind that it reads.
    pub resolution: Option<Checked>,
    /// Which gas response it has, in the author's words.
    pub gas_response: Option<String>,
    /// Where its numbers come from.
    pub basis: Basis,
}

/// Something computed.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Formula {
    /// Its id.
    pub id: String,
    /// Its place in the table of names.
    pub symbol: Symbol,
    /// How it is computed.
    pub is: Checked,
    /// Of a yes or no, what is so when it is a yes, in words.
    pub name: Option<String>,
    /// The unit in which it is shown; quantities only.
    pub unit: Option<UnitExpression>,
    /// Where its numbers come from.
    pub basis: Basis,
}

#[cfg(test)]
mod tests {
    use super::{Choice, find_choice};

    #[test]
    fn a_choice_is_found_by_a_beginning_without_its_hyphen_that_is_its_own() {
        let choices = ["R-410A", "R-404A", "R-407C", "R-290, propane"];
        let choices =
            choices.map(|label| Choice { id: format!("id of {label}"), label: label.to_owned() });
        let found = |typed: &str| find_choice(&choices, typed).map(|found| found.label.as_str());
        for typed in ["R410", "r 410", "R-410", "r410a"] {
            assert_eq!(found(typed), Some("R-410A"), "{typed}");
        }
        assert_eq!(found("r290"), Some("R-290, propane"));
        for typed in ["R40", "r4", "410", "", "-"] {
            assert_eq!(found(typed), None, "{typed}");
        }
    }

    #[test]
    fn a_label_of_two_words_is_found_by_either() {
        let choices = ["Clear", "Cloudy or milky", "No smell or smoke"];
        let choices =
            choices.map(|label| Choice { id: label.to_uppercase(), label: label.to_owned() });
        let found = |typed: &str| find_choice(&choices, typed).map(|found| found.label.as_str());
        assert_eq!(found("Milky"), Some("Cloudy or milky"));
        assert_eq!(found("cloudy"), Some("Cloudy or milky"));
        assert_eq!(found("smoke"), None);
    }
}
