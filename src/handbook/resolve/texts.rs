//! Reading the texts of an entry: formulas and prose.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::formula::{Checked, CheckedTemplate, Kind, Template, check, check_as, parse};

impl Resolver<'_> {
    /// A formula of whatever kind it gives.
    pub(super) fn formula(&mut self, origin: &str, text: &Scalar) -> Option<Checked> {
        let syntax = parse(&text.text, &|range| text.span_of(range));
        let checked = syntax.and_then(|syntax| check(&syntax, &self.names, origin));
        self.keep(checked)
    }

    /// A formula that must give a kind.
    pub(super) fn formula_as(
        &mut self,
        origin: &str,
        text: &Scalar,
        wanted: &Kind,
    ) -> Option<Checked> {
        let syntax = parse(&text.text, &|range| text.span_of(range));
        let checked = syntax.and_then(|syntax| check_as(&syntax, &self.names, origin, wanted));
        self.keep(checked)
    }

    /// Prose with placeholders.
    pub(super) fn template(&mut self, text: &Scalar) -> Option<CheckedTemplate> {
        let origin = format!("text at {}", text.span.start);
        let parsed = Template::parse(&text.text, &|range| text.span_of(range));
        let checked = parsed.and_then(|template| template.check(&self.names, &origin));
        self.keep(checked)
    }

    /// Prose that may be missing.
    pub(super) fn maybe_template(&mut self, text: Option<&Scalar>) -> Option<CheckedTemplate> {
        self.template(text?)
    }

    /// Keeps the faults of a formula or text, except those that follow from a faulty name.
    fn keep<T>(&mut self, result: Result<T, Vec<Diagnostic>>) -> Option<T> {
        match result {
            Ok(value) => Some(value),
            Err(faults) => {
                let follows = |fault: &Diagnostic| {
                    fault.code == Code::UnknownName
                        && fault.span().is_some_and(|span| {
                            let name = self.sources.slice(span);
                            self.names.faulty.iter().any(|faulty| faulty == name)
                        })
                };
                let fresh: Vec<Diagnostic> = faults.into_iter().filter(|f| !follows(f)).collect();
                self.faults.extend(fresh);
                None
            }
        }
    }
}
