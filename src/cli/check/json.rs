//! Faults for programs: our own JSON.

use serde_json::{Value, json};

use super::explain::word;
use super::not_proved::NotProved;
use crate::diagnostic::{Diagnostic, Severity};
use crate::handbook::Handbook;
use crate::source::{Sources, Span};

/// The version of the format; it rises when a key changes its meaning or goes.
const FORMAT: u32 = 1;

/// Every fault with its places, and what the handbook holds if it can run.
pub(super) fn json(
    faults: &[Diagnostic],
    sources: &Sources,
    handbook: Option<&Handbook>,
    open: &[NotProved],
) -> Value {
    let errors = faults.iter().filter(|fault| fault.severity() == Severity::Error).count();
    let held = handbook.map(|handbook| {
        json!({
            "name": handbook.name(),
            "version": handbook.version(),
            "hash": handbook.hash(),
            "trees": handbook.trees().len(),
            "questions": handbook.questions().len(),
            "findings": handbook.findings().len(),
            "causes": handbook.causes().len(),
        })
    });
    json!({
        "format": FORMAT,
        "is_sound": handbook.is_some(),
        "handbook": held,
        "errors": errors,
        "others": faults.len() - errors,
        "not_proved": handbook.map(|_| open.iter().map(NotProved::json).collect::<Vec<_>>()),
        "faults": faults.iter().map(|fault| one(fault, sources)).collect::<Vec<_>>(),
    })
}

fn one(fault: &Diagnostic, sources: &Sources) -> Value {
    let places = fault.labels.iter().map(|label| {
        let (place, says) = (Place::of(label.span, sources), &label.text);
        json!({
            "file": place.file,
            "line": place.start.0,
            "column": place.start.1,
            "end_line": place.end.0,
            "end_column": place.end.1,
            "text": sources.slice(label.span),
            "says": says,
        })
    });
    json!({
        "code": fault.code.number(),
        "severity": word(fault.severity()),
        "title": fault.title,
        "places": places.collect::<Vec<_>>(),
        "note": fault.note,
        "help": fault.help,
    })
}

/// A span by lines and columns, from 1, in characters; the end is one past the last one.
pub(super) struct Place<'a> {
    pub(super) file: &'a str,
    pub(super) start: (usize, usize),
    pub(super) end: (usize, usize),
}

impl<'a> Place<'a> {
    pub(super) fn of(span: Span, sources: &'a Sources) -> Self {
        let source = sources.get(span.source);
        let (start, end) = (source.position(span.start), source.position(span.end));
        Self { file: source.name(), start, end }
    }
}
