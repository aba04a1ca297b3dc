//! Questions, and the table of names.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Scalar;
use crate::document::raw::{RawQuestion, RawTest};
use crate::formula::{ChoiceSet, Kind, Referent, Symbol};
use crate::handbook::model::{Basis, Choice, Entry, Hazard, Question, QuestionId};
use crate::handbook::model::{FindingId, FormulaId};
use crate::handbook::names::Known;
use crate::quantity::{NAMED_KINDS, QuantityKind, UnitExpression, parse_unit};
use crate::text::list_or;

/// Kinds of answers that are no quantity.
const PLAIN_KINDS: [&str; 6] = ["yes/no", "choice", "choices", "text", "date", "readings"];

impl Resolver<'_> {
    /// Gives every question, formula and finding its symbol; formulas get their kind later.
    pub(super) fn declare_names(&mut self) {
        let raw = self.raw;
        for (i, question) in raw.questions.iter().enumerate() {
            let kind = self.question_kind(question);
            let entry = Entry::Question(QuestionId::at(i));
            self.declare(&question.id.value, question.id.span, Referent::Question, kind, entry);
        }
        for (i, formula) in raw.formulas.iter().enumerate() {
            let entry = Entry::Formula(FormulaId::at(i));
            self.declare(&formula.id.value, formula.id.span, Referent::Formula, None, entry);
        }
        for (i, finding) in raw.findings.iter().enumerate() {
            let kind = match &finding.test {
                Some(RawTest::Of(of)) => self.names.get(&of.value).and_then(|k| k.kind.clone()),
                _ => Some(Kind::YesNo),
            };
            let entry = Entry::Finding(FindingId::at(i));
            self.declare(&finding.id.value, finding.id.span, Referent::Finding, kind, entry);
        }
        for (i, action) in raw.actions.iter().enumerate() {
            self.names.insert_action(&action.id.value, Symbol(i as u32));
        }
    }

    fn declare(
        &mut self,
        id: &str,
        declared: crate::source::Span,
        referent: Referent,
        kind: Option<Kind>,
        entry: Entry,
    ) {
        let symbol = Symbol(self.parts.entries.len() as u32);
        if kind.is_none() && referent != Referent::Formula {
            self.names.faulty.push(id.to_owned());
        }
        self.names.insert(id, Known { symbol, referent, kind, declared });
        self.parts.entries.push(entry);
    }

    fn question_kind(&mut self, raw: &RawQuestion) -> Option<Kind> {
        let set = || ChoiceSet::new(raw.choices.iter().map(|choice| choice.id.value.clone()));
        let Some(written) = &raw.kind else {
            if !raw.choices.is_empty() {
                return Some(Kind::Choice(set()));
            }
            let title =
                format!("question `{}` doesn't say what kind of answer it takes", raw.id.value);
            let fault = Diagnostic::at(Code::MissingKey, title, raw.id.span, "`kind` is missing");
            self.faults.push(fault.help("add `kind: pressure`, another kind, or `choices:`"));
            return None;
        };
        match written.text.trim() {
            "yes/no" => Some(Kind::YesNo),
            "text" => Some(Kind::Text),
            "date" => Some(Kind::Date),
            "readings" => Some(Kind::Readings(QuantityKind::PRESSURE)),
            word @ ("choice" | "choices") if raw.choices.is_empty() => {
                let title = format!("question `{}` takes a {word} and lists none", raw.id.value);
                let label = "`choices:` is missing";
                self.faults.push(Diagnostic::at(Code::MissingKey, title, written.span, label));
                None
            }
            "choice" => Some(Kind::Choice(set())),
            "choices" => Some(Kind::Choices(set())),
            name => self.named_kind(written, name),
        }
    }

    fn named_kind(&mut self, written: &Scalar, name: &str) -> Option<Kind> {
        if let Some(named) = NAMED_KINDS.iter().find(|named| named.name == name) {
            return Some(Kind::Quantity(named.kind));
        }
        let kinds: Vec<&str> =
            NAMED_KINDS.iter().map(|named| named.name).chain(PLAIN_KINDS).collect();
        let near = near_name(name, kinds.iter().copied());
        self.faults.push(
            Diagnostic::at(
                Code::UnknownWord,
                format!("`{name}` is not a kind of answer"),
                written.span,
                "a kind belongs here",
            )
            .note(format!("the kinds are {}", list_or(&kinds)))
            .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
        );
        None
    }

    pub(super) fn questions(&mut self) {
        for raw in &self.raw.questions {
            if let Some(question) = self.question(raw) {
                self.parts.questions.push(question);
            }
        }
    }

    fn question(&mut self, raw: &RawQuestion) -> Option<Question> {
        let known = self.names.get(&raw.id.value)?;
        let (symbol, kind) = (known.symbol, known.kind.clone()?);
        let quantity = match kind {
            Kind::Quantity(quantity) => Some(quantity),
            _ => None,
        };
        let numbers = self.question_numbers(raw, quantity);
        let instrument = raw
            .instrument
            .as_ref()
            .and_then(|name| self.ids.instruments.find(name, &mut self.faults));
        let cautions = self.ids.cautions.find_all(&raw.cautions, &mut self.faults);
        let basis = self.question_basis(raw);
        Some(Question {
            id: raw.id.value.clone(),
            symbol,
            ask: self.maybe_template(raw.ask.as_ref())?,
            say: self.maybe_template(raw.say.as_ref()),
            why: self.maybe_template(raw.why.as_ref()),
            unit: quantity.and_then(|quantity| self.question_unit(raw, quantity)),
            range: numbers.range,
            usual: numbers.usual,
            choices: choices(raw),
            instrument,
            repeats: numbers.repeats,
            not_sure: numbers.not_sure,
            hazard: self.hazard(raw, &kind),
            takes: self.time(raw.takes.as_ref()),
            cautions,
            basis,
            kind,
        })
    }

    fn question_basis(&mut self, raw: &RawQuestion) -> Basis {
        let holds_numbers = [&raw.range, &raw.usual, &raw.repeats, &raw.not_sure]
            .iter()
            .any(|setting| setting.is_some());
        self.basis("question", &raw.id, raw.basis.as_ref(), holds_numbers)
    }

    fn question_unit(&mut self, raw: &RawQuestion, kind: QuantityKind) -> Option<UnitExpression> {
        if let Some(unit) = &raw.unit {
            return self.unit(unit, kind);
        }
        let written = raw.kind.as_ref()?.text.trim();
        let named = NAMED_KINDS.iter().find(|named| named.name == written)?;
        parse_unit(named.unit).ok()
    }

    fn question_numbers(&mut self, raw: &RawQuestion, kind: Option<QuantityKind>) -> Numbers {
        let Some(kind) = kind else {
            self.no_numbers(raw);
            return Numbers::default();
        };
        let mut range =
            |text: &Option<Scalar>| text.as_ref().and_then(|text| self.range(text, kind));
        let (whole, usual, not_sure) = (range(&raw.range), range(&raw.usual), range(&raw.not_sure));
        let difference = QuantityKind::computed(kind.dimension);
        let repeats = raw.repeats.as_ref().and_then(|text| self.quantity(text, difference));
        for (inner, text) in [(usual, &raw.usual), (not_sure, &raw.not_sure)] {
            if let (Some(inner), Some(whole), Some(text)) = (inner, whole, text) {
                self.check_inside(inner, whole, text, raw);
            }
        }
        if let (Some(text), Some(_)) = (&raw.not_sure, &raw.instrument) {
            self.observation_is_no_setting(raw, text);
        }
        Numbers { range: whole, usual, not_sure, repeats }
    }

    fn check_inside(
        &mut self,
        inner: (f64, f64),
        whole: (f64, f64),
        text: &Scalar,
        raw: &RawQuestion,
    ) {
        let slack = 1e-9 * whole.1.abs().max(whole.0.abs());
        if inner.0 >= whole.0 - slack && inner.1 <= whole.1 + slack {
            return;
        }
        let title = format!("`{}` reaches outside the range of `{}`", text.text, raw.id.value);
        let mut fault = Diagnostic::at(Code::OutOfRange, title, text.span, "outside the range");
        if let Some(range) = &raw.range {
            fault = fault.and_at(range.span, "the range is set here");
        }
        self.faults.push(fault);
    }

    fn observation_is_no_setting(&mut self, raw: &RawQuestion, text: &Scalar) {
        let title = format!("`{}` is read by an instrument and has a `not_sure`", raw.id.value);
        self.faults.push(
            Diagnostic::at(Code::KeysTogether, title, text.span, "only settings have a `not_sure`")
                .note("a reading that nobody is sure of is no evidence at all"),
        );
    }

    fn no_numbers(&mut self, raw: &RawQuestion) {
        let settings = [
            ("unit", &raw.unit),
            ("range", &raw.range),
            ("usual", &raw.usual),
            ("repeats", &raw.repeats),
            ("not_sure", &raw.not_sure),
        ];
        for (key, text) in settings {
            if let Some(text) = text {
                let title =
                    format!("question `{}` takes no number and has a `{key}`", raw.id.value);
                let label = "only quantities have one";
                self.faults.push(Diagnostic::at(Code::KeysTogether, title, text.span, label));
            }
        }
    }

    fn hazard(&mut self, raw: &RawQuestion, kind: &Kind) -> Option<Hazard> {
        let written = raw.hazard.as_ref()?;
        let word = written.text.trim();
        let found = match kind {
            Kind::YesNo if word == "yes" => Some(Hazard::YesNo(true)),
            Kind::YesNo if word == "no" => Some(Hazard::YesNo(false)),
            Kind::Choice(set) => set.position(word).map(|place| Hazard::Choice(place as u16)),
            _ => None,
        };
        if found.is_none() {
            let title = format!("`{word}` is no answer to `{}`", raw.id.value);
            let label = "the answer that \"not sure\" counts as belongs here";
            self.faults.push(Diagnostic::at(Code::UnknownChoice, title, written.span, label));
        }
        found
    }
}

#[derive(Default)]
struct Numbers {
    range: Option<(f64, f64)>,
    usual: Option<(f64, f64)>,
    not_sure: Option<(f64, f64)>,
    repeats: Option<f64>,
}

fn choices(raw: &RawQuestion) -> Vec<Choice> {
    let choice = |choice: &crate::document::raw::RawChoice| Choice {
        id: choice.id.value.clone(),
        label: choice.text.text.clone(),
    };
    raw.choices.iter().map(choice).collect()
}
