//! The table of names: every question, formula and finding with its kind.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::Scalar;
use crate::document::raw::{RawChoice, RawQuestion, RawTest};
use crate::formula::{ChoiceSet, Kind, Referent, Symbol};
use crate::handbook::model::{Entry, FindingId, FormulaId, QuestionId};
use crate::handbook::names::Known;
use crate::quantity::{NAMED_KINDS, QuantityKind};
use crate::text::list_or;

/// Kinds of answers that are no quantity.
const PLAIN_KINDS: [&str; 6] = ["yes/no", "choice", "choices", "text", "date", "readings"];

/// Every kind of answer that a question may name.
pub(in crate::handbook) fn kind_words() -> Vec<&'static str> {
    NAMED_KINDS.iter().map(|named| named.name).chain(PLAIN_KINDS).collect()
}

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
        let is_answer = |choice: &RawChoice| matches!(choice.id.as_str(), "yes" | "no");
        // Told among the reserved ids; what its answers are is not known.
        if !raw.choices_are_whole || raw.choices.iter().any(is_answer) {
            return None;
        }
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
        let kinds = kind_words();
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
}
