//! Formulas, each after those that it uses.

use std::collections::{BTreeMap, BTreeSet};

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::raw::RawFormula;
use crate::formula::{Checked, Kind, Syntax, parse};
use crate::handbook::model::Formula;
use crate::quantity::{NAMED_KINDS, UnitExpression, parse_unit};

impl<'a> Resolver<'a> {
    pub(super) fn formulas(&mut self) {
        let mut built: BTreeMap<&str, Formula> = BTreeMap::new();
        for raw in self.in_order() {
            match self.one_formula(raw) {
                Some(formula) => {
                    self.names.set_kind(&raw.id.value, formula.is.kind().clone());
                    built.insert(&raw.id.value, formula);
                }
                None => self.names.faulty.push(raw.id.value.clone()),
            }
        }
        for raw in &self.raw.formulas {
            self.parts.formulas.extend(built.remove(raw.id.value.as_str()));
        }
    }

    fn one_formula(&mut self, raw: &RawFormula) -> Option<Formula> {
        let text = raw.is.as_ref()?;
        let is = self.formula(&raw.id.value, text)?;
        let unit = self.shown_unit(raw, &is);
        let basis = self.basis("formula", &raw.id, raw.basis.as_ref(), holds_a_number(&text.text));
        let symbol = self.names.get(&raw.id.value)?.symbol;
        Some(Formula { id: raw.id.value.clone(), symbol, is, unit, basis })
    }

    fn shown_unit(&mut self, raw: &RawFormula, is: &Checked) -> Option<UnitExpression> {
        let Kind::Quantity(kind) = *is.kind() else {
            if let Some(unit) = &raw.shown_as {
                let title =
                    format!("`{}` gives {} and has a unit", raw.id.value, is.kind().with_article());
                let label = "only quantities are shown in a unit";
                self.faults.push(Diagnostic::at(Code::KeysTogether, title, unit.span, label));
            }
            return None;
        };
        if let Some(unit) = &raw.shown_as {
            return self.unit(unit, kind);
        }
        let named = NAMED_KINDS.iter().find(|named| kind == named.kind || kind.fits(named.kind))?;
        parse_unit(named.unit).ok()
    }

    /// Formulas in an order in which each comes after those it uses; those in a circle are
    /// reported once, and left out.
    fn in_order(&mut self) -> Vec<&'a RawFormula> {
        let raw = self.raw;
        let needs: Vec<(&RawFormula, BTreeSet<String>)> =
            raw.formulas.iter().map(|formula| (formula, self.formulas_used(formula))).collect();
        let mut ready: BTreeSet<&str> = BTreeSet::new();
        let mut order = Vec::new();
        let mut waiting = needs;
        loop {
            let (free, blocked): (Vec<_>, Vec<_>) = waiting
                .into_iter()
                .partition(|(_, needs)| needs.iter().all(|need| ready.contains(need.as_str())));
            if free.is_empty() {
                self.report_circle(&blocked);
                return order;
            }
            for (formula, _) in &free {
                ready.insert(&formula.id.value);
                order.push(*formula);
            }
            waiting = blocked;
        }
    }

    /// The formulas that a formula can be traced to in one step: by name, or through a finding
    /// that it names.
    fn formulas_used(&self, raw: &RawFormula) -> BTreeSet<String> {
        let syntax = raw.is.as_ref().and_then(|text| parse(&text.text, &|r| text.span_of(r)).ok());
        let names = syntax.map(|syntax: Syntax| syntax.names()).unwrap_or_default();
        names.into_iter().filter(|name| self.ids.formulas.get(name).is_some()).collect()
    }

    fn report_circle(&mut self, blocked: &[(&RawFormula, BTreeSet<String>)]) {
        let Some((first, _)) = blocked.first() else { return };
        let circle = circle_from(blocked);
        let chain = circle.iter().chain(circle.first()).map(|id| format!("`{id}`"));
        let title = format!(
            "formulas need each other in a circle: {}",
            chain.collect::<Vec<_>>().join(" -> ")
        );
        let at = blocked
            .iter()
            .find(|(formula, _)| circle.first() == Some(&formula.id.value))
            .map_or(first, |(formula, _)| formula);
        let fault =
            Diagnostic::at(Code::FormulaCycle, title, at.id.span, "the circle goes through here");
        self.faults.push(fault.note("a formula can't use its own result"));
        self.names.faulty.extend(blocked.iter().map(|(formula, _)| formula.id.value.clone()));
    }
}

/// Follows the first unmet need from formula to formula until one comes round again.
fn circle_from(blocked: &[(&RawFormula, BTreeSet<String>)]) -> Vec<String> {
    let mut path: Vec<String> = Vec::new();
    let mut at = blocked[0].0.id.value.clone();
    loop {
        if let Some(start) = path.iter().position(|seen| *seen == at) {
            return path.split_off(start);
        }
        let needs = blocked.iter().find(|(formula, _)| formula.id.value == at);
        let is_blocked = |id: &&String| blocked.iter().any(|(formula, _)| formula.id.value == **id);
        let Some(next) = needs.and_then(|(_, needs)| needs.iter().find(is_blocked)) else {
            return path;
        };
        path.push(at);
        at = next.clone();
    }
}

/// Whether a formula's text holds a number of its own.
fn holds_a_number(text: &str) -> bool {
    let mut before = ' ';
    text.chars().any(|c| {
        let starts_number = c.is_ascii_digit() && !before.is_alphanumeric() && before != '_';
        before = c;
        starts_number
    })
}
