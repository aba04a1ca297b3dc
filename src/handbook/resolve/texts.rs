//! Reading the texts of an entry: quantities, ranges, times, formulas and prose.

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::formula::{Checked, CheckedTemplate, Kind, Template, check, check_as, parse};
use crate::quantity::{QuantityKind, UnitExpression, parse_quantity, parse_range, parse_unit};

impl Resolver<'_> {
    /// A setting such as `5 min`, in SI units.
    pub(super) fn quantity(&mut self, text: &Scalar, kind: QuantityKind) -> Option<f64> {
        match parse_quantity(&text.text, kind) {
            Ok(value) => Some(value),
            Err(misread) => {
                let title =
                    format!("`{}` is not {}", text.text, Kind::Quantity(kind).with_article());
                let label = misread.to_string();
                self.faults.push(Diagnostic::at(Code::WrongUnit, title, text.span, label));
                None
            }
        }
    }

    /// A time, in seconds.
    pub(super) fn time(&mut self, text: Option<&Scalar>) -> Option<f64> {
        self.quantity(text?, QuantityKind::TIME)
    }

    /// A range such as `20 micron to 2000 micron`, in SI units.
    pub(super) fn range(&mut self, text: &Scalar, kind: QuantityKind) -> Option<(f64, f64)> {
        match parse_range(&text.text, kind) {
            Ok(range) => Some(range),
            Err(misread) => {
                let wanted = Kind::Quantity(kind).with_article();
                let title = format!("`{}` is not a range of {wanted}", text.text);
                let label = misread.to_string();
                self.faults.push(Diagnostic::at(Code::WrongUnit, title, text.span, label));
                None
            }
        }
    }

    /// A unit that must measure a kind.
    pub(super) fn unit(&mut self, text: &Scalar, kind: QuantityKind) -> Option<UnitExpression> {
        let fault = match parse_unit(text.text.trim()) {
            Ok(unit) if unit.kind.fits(kind) => return Some(unit),
            Ok(unit) => {
                let title = format!(
                    "`{}` is a unit of {}, and {} is wanted",
                    text.text,
                    unit.kind.name(),
                    Kind::Quantity(kind).with_article(),
                );
                Diagnostic::at(Code::WrongUnit, title, text.span, "a unit of another kind")
            }
            Err(unknown) => {
                let title = format!("`{}` is not a unit", text.text);
                Diagnostic::at(Code::UnknownUnit, title, text.span, unknown.to_string())
            }
        };
        self.faults.push(fault);
        None
    }

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
