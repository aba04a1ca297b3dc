//! Who needs whom among questions, formulas and findings, read off the texts as written, so that
//! it is known of a handbook with faults too.

use std::collections::BTreeMap;

use crate::document::raw::{RawFinding, RawHandbook, RawInstrument, RawTest};
use crate::document::{Scalar, Spanned};
use crate::formula::parse;
use crate::source::Span;

/// The names of a handbook, numbered in the order questions, formulas, findings.
pub(super) struct WrittenNames<'a> {
    names: Vec<&'a Spanned<String>>,
    /// For each name, where those it needs are named.
    uses: Vec<Vec<Use<'a>>>,
    needs: Vec<Vec<usize>>,
    formulas_from: usize,
}

/// A text that may name others.
#[derive(Clone, Copy)]
enum Use<'a> {
    /// A formula.
    Formula(&'a Scalar),
    /// The instrument of a question, whose own error may depend on others.
    Instrument(&'a Spanned<String>, &'a RawInstrument),
    /// The question behind `of`.
    Question(&'a Spanned<String>),
}

impl<'a> WrittenNames<'a> {
    pub(super) fn of(raw: &'a RawHandbook) -> Self {
        let questions = raw.questions.iter().map(|entry| &entry.id);
        let formulas = raw.formulas.iter().map(|entry| &entry.id);
        let findings = raw.findings.iter().map(|entry| &entry.id);
        let names: Vec<&Spanned<String>> = questions.chain(formulas).chain(findings).collect();
        let numbers: BTreeMap<&str, usize> =
            names.iter().enumerate().map(|(i, id)| (id.value.as_str(), i)).collect();
        let uses = uses(raw);
        let number = |name: &String| numbers.get(name.as_str()).copied();
        let needed = |uses: &Vec<Use<'_>>| {
            let names = uses.iter().flat_map(Use::names);
            names.filter_map(|name| number(&name)).collect()
        };
        let needs = uses.iter().map(needed).collect();
        Self { names, uses, needs, formulas_from: raw.questions.len() }
    }

    /// For each name, by number, those it needs.
    pub(super) fn needs(&self) -> &Vec<Vec<usize>> {
        &self.needs
    }

    /// The name behind a number.
    pub(super) fn name(&self, number: usize) -> &'a str {
        &self.names[number].value
    }

    /// Where one name says that it needs another.
    pub(super) fn place(&self, number: usize, needed: usize) -> Span {
        let needed = self.name(needed);
        let place = self.uses[number].iter().find_map(|used| used.place(needed));
        place.unwrap_or(self.names[number].span)
    }

    /// For each formula, by its place among the formulas, the formulas that it names.
    pub(super) fn formulas_needed(&self, formulas: usize) -> Vec<Vec<usize>> {
        let own = self.formulas_from..self.formulas_from + formulas;
        let among = |needed: &Vec<usize>| {
            let needed = needed.iter().filter(|number| own.contains(number));
            needed.map(|number| number - self.formulas_from).collect()
        };
        self.needs[own.clone()].iter().map(among).collect()
    }
}

fn uses(raw: &RawHandbook) -> Vec<Vec<Use<'_>>> {
    let instruments: BTreeMap<&str, &RawInstrument> =
        raw.instruments.iter().map(|i| (i.id.value.as_str(), i)).collect();
    let mut uses: Vec<Vec<Use<'_>>> = Vec::new();
    for question in &raw.questions {
        let name = question.instrument.as_ref();
        let found = name.and_then(|name| Some((name, *instruments.get(name.value.as_str())?)));
        uses.push(found.map(|(name, found)| Use::Instrument(name, found)).into_iter().collect());
    }
    for formula in &raw.formulas {
        uses.push(formula.is.iter().map(Use::Formula).collect());
    }
    uses.extend(raw.findings.iter().map(of_finding));
    uses
}

fn of_finding(finding: &RawFinding) -> Vec<Use<'_>> {
    let test = finding.test.as_ref().map(|test| match test {
        RawTest::When(text) => Use::Formula(text),
        RawTest::Of(name) => Use::Question(name),
    });
    test.into_iter().chain(finding.only_if.iter().map(Use::Formula)).collect()
}

impl Use<'_> {
    fn names(&self) -> Vec<String> {
        match self {
            Self::Formula(text) => names_in(text),
            Self::Instrument(_, instrument) => {
                let RawInstrument { scale, offset, resolution, .. } = instrument;
                [scale, offset, resolution].into_iter().flatten().flat_map(names_in).collect()
            }
            Self::Question(name) => vec![name.value.clone()],
        }
    }

    fn place(&self, needed: &str) -> Option<Span> {
        match self {
            Self::Formula(text) => word_in(text, needed),
            Self::Instrument(name, _) => {
                self.names().iter().any(|name| name == needed).then_some(name.span)
            }
            Self::Question(name) => (name.value == needed).then_some(name.span),
        }
    }
}

/// The names in a formula, none if it can't be read.
fn names_in(text: &Scalar) -> Vec<String> {
    let syntax = parse(&text.text, &|range| text.span_of(range));
    syntax.map(|syntax| syntax.names().into_iter().collect()).unwrap_or_default()
}

/// Where a whole word stands in a text.
fn word_in(text: &Scalar, word: &str) -> Option<Span> {
    let is_part = |c: char| c.is_alphanumeric() || c == '_';
    let found = text.text.match_indices(word).find(|(at, _)| {
        let (before, after) = (&text.text[..*at], &text.text[at + word.len()..]);
        !before.ends_with(is_part) && !after.starts_with(is_part)
    });
    found.map(|(at, _)| text.span_of(at..at + word.len()))
}
