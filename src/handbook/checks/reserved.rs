//! Ids that the language uses itself.

use crate::diagnostic::{Code, Diagnostic};
use crate::document::Spanned;
use crate::document::raw::{RawChoice, RawHandbook, RawQuestion};
use crate::formula::is_language_word;
use crate::quantity::find_unit;

/// Words that mean something where a choice may stand: under `next`, and as an answer.
const ANSWER_WORDS: [&str; 2] = ["skip", "tree"];

const YES_NO: [&str; 2] = ["yes", "no"];

pub(super) fn check(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    let questions = raw.questions.iter().map(|entry| ("question", &entry.id));
    let formulas = raw.formulas.iter().map(|entry| ("formula", &entry.id));
    let findings = raw.findings.iter().map(|entry| ("finding", &entry.id));
    for (what, id) in questions.chain(formulas).chain(findings) {
        if let Some(taken_by) = reserved_value(&id.value) {
            faults.push(reserved(what, id, taken_by));
        }
    }
    for action in &raw.actions {
        check_word("action", &action.id, faults);
    }
    raw.questions.iter().for_each(|question| check_yes_no(question, faults));
    for choice in raw.questions.iter().flat_map(|question| &question.choices) {
        if YES_NO.contains(&choice.id.value.as_str()) {
            continue;
        }
        if ANSWER_WORDS.contains(&choice.id.value.as_str()) {
            faults.push(reserved("choice", &choice.id, "an answer of its own"));
        } else {
            check_word("choice", &choice.id, faults);
        }
    }
}

/// Choices that are called yes and no: told once for the question.
fn check_yes_no(question: &RawQuestion, faults: &mut Vec<Diagnostic>) {
    let is_taken = |choice: &&RawChoice| YES_NO.contains(&choice.id.value.as_str());
    let taken: Vec<&RawChoice> = question.choices.iter().filter(is_taken).collect();
    let Some(first) = taken.first() else { return };
    let mut fault = reserved("choice", &first.id, LANGUAGE);
    for choice in &taken[1..] {
        fault = fault.and_at(choice.id.span, LANGUAGE);
    }
    faults.push(match taken.len() == question.choices.len() {
        true => fault.help("write `kind: yes/no` instead of `choices:`, or choose other ids"),
        false => fault,
    });
}

/// What an id of a question, formula or finding would collide with, in words; nothing if it is
/// free.
///
/// ```
/// use dryhold::handbook::reserved_value;
/// assert_eq!(reserved_value("micron"), Some("a unit"));
/// assert_eq!(reserved_value("blank_off"), None);
/// ```
#[must_use]
pub fn reserved_value(id: &str) -> Option<&'static str> {
    if find_unit(id).is_some() { Some("a unit") } else { is_language_word(id).then_some(LANGUAGE) }
}

const LANGUAGE: &str = "a word of the formula language";

fn check_word(what: &str, id: &Spanned<String>, faults: &mut Vec<Diagnostic>) {
    if is_language_word(&id.value) {
        faults.push(reserved(what, id, LANGUAGE));
    }
}

fn reserved(what: &str, id: &Spanned<String>, taken_by: &str) -> Diagnostic {
    let title = format!("{what} `{}` has the name of {taken_by}", id.value);
    Diagnostic::at(Code::ReservedName, title, id.span, taken_by)
        .help(format!("choose another id, such as `the_{}`", id.value))
}
