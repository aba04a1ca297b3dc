//! Cautions and sources.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::document::raw::RawCaution;
use crate::document::{Scalar, Spanned};
use crate::formula::Kind;
use crate::handbook::model::{Caution, CautionSeverity, Reference};

/// The words for how grave a caution is.
pub(in crate::handbook) fn severity_words() -> Vec<&'static str> {
    CautionSeverity::ALL.map(CautionSeverity::word).to_vec()
}

impl Resolver<'_> {
    pub(super) fn cautions(&mut self) {
        for raw in &self.raw.cautions {
            if let Some(caution) = self.caution(raw) {
                self.parts.cautions.push(caution);
            }
        }
    }

    fn caution(&mut self, raw: &RawCaution) -> Option<Caution> {
        let severity = raw.severity.as_ref().and_then(|written| self.severity(written));
        let text = self.maybe_template(raw.text.as_ref());
        let refer = self.maybe_template(raw.refer.as_ref());
        if severity == Some(CautionSeverity::Stop) && raw.refer.is_none() {
            let title = format!("caution `{}` stops the work and refers to nobody", raw.id.value);
            let fault = Diagnostic::at(Code::MissingKey, title, raw.id.span, "`refer` is missing");
            self.faults.push(fault.help("add `refer:` with the person or body to ask"));
        }
        let only_if = raw.only_if.as_ref().and_then(|text| {
            self.formula_as(&format!("{} only_if", raw.id.value), text, &Kind::YesNo)
        });
        if severity == Some(CautionSeverity::Stop) {
            self.stops_everywhere(raw);
        }
        Some(Caution { id: raw.id.value.clone(), severity: severity?, only_if, text: text?, refer })
    }

    /// What must be acknowledged does not hang on an answer that may be a slip.
    fn stops_everywhere(&mut self, raw: &RawCaution) {
        let Some(only_if) = &raw.only_if else { return };
        let title = format!("caution `{}` is a stop, and has an `only_if`", raw.id.value);
        let label = "a stop is acknowledged wherever it stands";
        self.faults.push(
            Diagnostic::at(Code::KeysTogether, title, only_if.span, label)
                .help("take `only_if` out, or ask for it in the tree"),
        );
    }

    fn severity(&mut self, written: &Spanned<String>) -> Option<CautionSeverity> {
        let word = written.value.as_str();
        let found = CautionSeverity::ALL.into_iter().find(|known| known.word() == word);
        if found.is_none() {
            let title = format!("`{word}` is not a severity");
            let near = near_name(word, severity_words());
            let label = "`stop`, `caution` or `note` belongs here";
            self.faults.push(
                Diagnostic::at(Code::UnknownWord, title, written.span, label)
                    .maybe_help(near.map(|near| format!("did you mean `{near}`?"))),
            );
        }
        found
    }

    pub(super) fn references(&mut self) {
        let text = |scalar: &Option<Scalar>| scalar.as_ref().map(|scalar| scalar.text.clone());
        for raw in &self.raw.sources {
            self.parts.references.push(Reference {
                id: raw.id.value.clone(),
                title: text(&raw.title).unwrap_or_default(),
                by: text(&raw.by),
                year: text(&raw.year),
                place: text(&raw.found_at),
            });
        }
    }
}
