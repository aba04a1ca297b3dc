//! Cautions and sources.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::RawCaution;
use crate::handbook::model::{Caution, CautionSeverity, Reference};

impl Resolver<'_> {
    pub(super) fn cautions(&mut self) {
        for raw in &self.raw.cautions {
            if let Some(caution) = self.caution(raw) {
                self.parts.cautions.push(caution);
            }
        }
    }

    fn caution(&mut self, raw: &RawCaution) -> Option<Caution> {
        let written = raw.severity.as_ref()?;
        let severity = match written.value.as_str() {
            "stop" => CautionSeverity::Stop,
            "caution" => CautionSeverity::Caution,
            "note" => CautionSeverity::Note,
            word => {
                let title = format!("`{word}` is not a severity");
                let label = "`stop`, `caution` or `note` belongs here";
                self.faults.push(Diagnostic::at(Code::UnknownWord, title, written.span, label));
                return None;
            }
        };
        if severity == CautionSeverity::Stop && raw.refer.is_none() {
            let title = format!("caution `{}` stops the work and refers to nobody", raw.id.value);
            let fault = Diagnostic::at(Code::MissingKey, title, raw.id.span, "`refer` is missing");
            self.faults.push(fault.help("add `refer:` with the person or body to ask"));
        }
        Some(Caution {
            id: raw.id.value.clone(),
            severity,
            text: self.maybe_template(raw.text.as_ref())?,
            refer: self.maybe_template(raw.refer.as_ref()),
        })
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
