//! Ids that the language uses itself, and ids that two sections of one namespace share.

use std::collections::BTreeMap;

use crate::diagnostic::{Code, Diagnostic};
use crate::document::Spanned;
use crate::document::raw::RawHandbook;
use crate::formula::is_language_word;
use crate::quantity::find_unit;
use crate::source::Span;

pub(super) fn check(raw: &RawHandbook, faults: &mut Vec<Diagnostic>) {
    let questions = raw.questions.iter().map(|entry| ("question", &entry.id));
    let formulas = raw.formulas.iter().map(|entry| ("formula", &entry.id));
    let findings = raw.findings.iter().map(|entry| ("finding", &entry.id));
    let mut taken: BTreeMap<&str, (&str, Span)> = BTreeMap::new();
    for (what, id) in questions.chain(formulas).chain(findings) {
        check_word(what, id, faults);
        match taken.get(id.value.as_str()) {
            Some((first, span)) if *first != what => {
                let title = format!("`{}` is a {first} and a {what}", id.value);
                let fault =
                    Diagnostic::at(Code::DuplicateId, title, id.span, format!("a {what} here"));
                faults.push(fault.and_at(*span, format!("a {first} here")));
            }
            Some(_) => {}
            None => {
                taken.insert(&id.value, (what, id.span));
            }
        }
    }
}

fn check_word(what: &str, id: &Spanned<String>, faults: &mut Vec<Diagnostic>) {
    let taken_by = if is_language_word(&id.value) {
        "a word of the formula language"
    } else if find_unit(&id.value).is_some() {
        "a unit"
    } else {
        return;
    };
    let title = format!("{what} `{}` has the name of {taken_by}", id.value);
    faults.push(
        Diagnostic::at(Code::ReservedName, title, id.span, taken_by)
            .help(format!("choose another id, such as `the_{}`", id.value)),
    );
}
