//! The formulas of a handbook file, checked against its questions: what a fixture runs through.

use dryhold::diagnostic::{Diagnostic, sort_in_file_order};
use dryhold::document::Scalar;
use dryhold::document::raw::{RawHandbook, RawQuestion, RawTest, read_handbook};
use dryhold::formula::{
    ChoiceSet, Kind, NameInfo, Names, Referent, Symbol, Template, check, check_as, parse,
};
use dryhold::quantity::parse_unit;
use dryhold::source::{SourceId, Sources, Span};

/// The names that have been declared so far.
struct Declared {
    names: Vec<(String, NameInfo)>,
    actions: Vec<String>,
}

impl Declared {
    fn add(&mut self, name: &str, referent: Referent, kind: Kind, declared: Option<Span>) {
        let symbol = Symbol(self.names.len() as u32);
        self.names.push((name.to_owned(), NameInfo { symbol, referent, kind, declared }));
    }
}

impl Names for Declared {
    fn lookup(&self, name: &str) -> Option<NameInfo> {
        self.names.iter().find(|(known, _)| known == name).map(|(_, info)| info.clone())
    }

    fn action(&self, name: &str) -> Option<Symbol> {
        self.actions.iter().position(|action| action == name).map(|place| Symbol(place as u32))
    }

    fn all_names(&self) -> Vec<&str> {
        self.names.iter().map(|(name, _)| name.as_str()).collect()
    }

    fn all_actions(&self) -> Vec<&str> {
        self.actions.iter().map(String::as_str).collect()
    }
}

/// All faults of the formulas in some files; a formula may use those before it.
pub fn faults_of_formulas(sources: &Sources, files: &[SourceId]) -> Vec<Diagnostic> {
    let (raw, mut faults) = read_handbook(sources, files, &[]);
    let actions = raw.actions.iter().map(|action| action.id.value.clone()).collect();
    let mut names = Declared { names: Vec::new(), actions };
    for question in &raw.questions {
        let (kind, place) = declared_kind(question);
        names.add(question.id.as_str(), Referent::Question, kind, place);
    }
    formulas(&raw, &mut names, &mut faults);
    findings(&raw, &names, &mut faults);
    sort_in_file_order(&mut faults);
    faults
}

fn declared_kind(question: &RawQuestion) -> (Kind, Option<Span>) {
    let set = ChoiceSet::new(question.choices.iter().map(|choice| choice.id.value.clone()));
    let place = question.choices.first().map(|choice| choice.id.span);
    match &question.kind {
        Some(kind) if kind.text == "choices" => (Kind::Choices(set), place),
        Some(kind) => (Kind::named(&kind.text).unwrap(), Some(kind.span)),
        None => (Kind::Choice(set), place),
    }
}

fn formulas(raw: &RawHandbook, names: &mut Declared, faults: &mut Vec<Diagnostic>) {
    for formula in &raw.formulas {
        let Some(is) = &formula.is else { continue };
        let shown_as =
            formula.shown_as.as_ref().map(|unit| (parse_unit(&unit.text).unwrap(), unit));
        let checked = parse(&is.text, &|range| is.span_of(range)).and_then(|syntax| {
            let syntax = match shown_as {
                Some((unit, place)) => syntax.shown_in(unit, place.span),
                None => syntax,
            };
            check(&syntax, names, formula.id.as_str())
        });
        match checked {
            Ok(checked) => {
                names.add(formula.id.as_str(), Referent::Formula, checked.kind().clone(), None);
            }
            Err(found) => faults.extend(found),
        }
    }
}

fn findings(raw: &RawHandbook, names: &Declared, faults: &mut Vec<Diagnostic>) {
    for finding in &raw.findings {
        let when = match &finding.test {
            Some(RawTest::When(when)) => Some(when),
            _ => None,
        };
        for yes_no in [when, finding.only_if.as_ref()].into_iter().flatten() {
            let checked = parse(&yes_no.text, &|range| yes_no.span_of(range))
                .and_then(|syntax| check_as(&syntax, names, finding.id.as_str(), &Kind::YesNo));
            faults.extend(checked.err().into_iter().flatten());
        }
        for sentence in [&finding.so, &finding.so_not].into_iter().flatten() {
            faults.extend(faults_of_sentence(sentence, names));
        }
    }
}

fn faults_of_sentence(sentence: &Scalar, names: &Declared) -> Vec<Diagnostic> {
    Template::parse(&sentence.text, &|range| sentence.span_of(range))
        .and_then(|template| template.check(names, "sentence"))
        .err()
        .unwrap_or_default()
}
