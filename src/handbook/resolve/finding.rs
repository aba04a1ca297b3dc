//! Findings.

use super::Resolver;
use super::formula::holds_a_number;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::{RawFinding, RawTest};
use crate::formula::Kind;
use crate::handbook::model::{Basis, CauseId, Finding, Observes};

impl Resolver<'_> {
    pub(super) fn findings(&mut self) {
        for raw in &self.raw.findings {
            if let Some(finding) = self.finding(raw) {
                self.parts.findings.push(finding);
            }
        }
    }

    fn finding(&mut self, raw: &RawFinding) -> Option<Finding> {
        let observes = self.observes(raw);
        let only_if = raw.only_if.as_ref().and_then(|text| {
            self.formula_as(&format!("{} only_if", raw.id.value), text, &Kind::YesNo)
        });
        let outcomes = self.outcomes(raw);
        let (background, shown_by) = self.shares(raw, &outcomes);
        let hidden_by = self.hidden_by(raw);
        let same_measurement = self.ids.findings.find_all(&raw.same_measurement, &mut self.faults);
        let replaces = raw
            .replaces_finding
            .as_ref()
            .and_then(|name| self.ids.findings.find(name, &mut self.faults));
        let read_again = self.ids.questions.find_all(&raw.read_again, &mut self.faults);
        let holds_back = self.ids.actions.find_all(&raw.holds_back, &mut self.faults);
        let basis = self.finding_basis(raw);
        let (so, so_not) =
            (self.maybe_template(raw.so.as_ref()), self.maybe_template(raw.so_not.as_ref()));
        let refer = self.maybe_template(raw.refer.as_ref());
        let is_fault = raw.fault.as_ref().is_some_and(|text| self.yes_or_no(text));
        Some(Finding {
            id: raw.id.value.clone(),
            symbol: self.names.get(&raw.id.value)?.symbol,
            observes: observes?,
            only_if,
            name: raw.name.as_ref().map(one_line),
            name_not: raw.name_not.as_ref().map(one_line),
            so,
            so_not,
            refer,
            is_fault,
            background,
            shown_by,
            hidden_by,
            same_measurement,
            replaces,
            read_again,
            holds_back,
            basis,
        })
    }

    fn finding_basis(&mut self, raw: &RawFinding) -> Basis {
        let holds = |text: &Scalar| holds_a_number(text);
        let numbers = [
            ("when", matches!(&raw.test, Some(RawTest::When(text)) if holds(text))),
            ("only_if", raw.only_if.as_ref().is_some_and(holds)),
            ("anyway", raw.anyway.is_some()),
            ("shown_by", !raw.shown_by.is_empty()),
            ("hidden_by", !raw.hidden_by.is_empty()),
            ("name", false),
            ("name_not", false),
            ("so", false),
            ("so_not", false),
            ("refer", false),
            ("fault", false),
        ];
        self.basis("finding", &raw.id, raw.basis.as_ref(), &numbers)
    }

    fn observes(&mut self, raw: &RawFinding) -> Option<Observes> {
        match raw.test.as_ref()? {
            RawTest::When(text) => {
                self.formula_as(&raw.id.value, text, &Kind::YesNo).map(Observes::When)
            }
            RawTest::Of(name) => {
                let question = self.ids.questions.find(name, &mut self.faults)?;
                match self.names.get(&name.value).and_then(|known| known.kind.clone()) {
                    Some(Kind::Choice(_)) => Some(Observes::Of(question)),
                    Some(kind) => {
                        let title = format!(
                            "`{}` is {}, and `of` takes a choice",
                            name.value,
                            kind.with_article()
                        );
                        let label = kind.with_article();
                        let fault = Diagnostic::at(Code::WrongKind, title, name.span, label);
                        self.faults.push(fault.help("write a formula under `when` instead"));
                        None
                    }
                    None => None,
                }
            }
        }
    }

    fn hidden_by(&mut self, raw: &RawFinding) -> Vec<(CauseId, f64)> {
        let mut hidden = Vec::new();
        for (name, strength) in &raw.hidden_by {
            let cause = self.ids.causes.find(name, &mut self.faults);
            let share = self.share(strength);
            hidden.extend(cause.zip(share));
        }
        hidden
    }
}

/// A name as it stands within a sentence: on one line, without a full stop.
fn one_line(text: &Scalar) -> String {
    let words = text.text.split_whitespace().collect::<Vec<_>>().join(" ");
    words.strip_suffix('.').map_or_else(|| words.clone(), str::to_owned)
}
