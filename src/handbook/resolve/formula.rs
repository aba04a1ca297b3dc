//! Formulas, each after those that it uses.

use std::collections::BTreeMap;

use super::Resolver;
use crate::diagnostic::{Code, Diagnostic};
use crate::document::Scalar;
use crate::document::raw::RawFormula;
use crate::formula::{Checked, Kind, parse};
use crate::handbook::model::Formula;
use crate::handbook::written::WrittenNames;
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
        let holds_numbers = raw.is.as_ref().is_some_and(holds_a_number);
        let numbers = [("is", holds_numbers)];
        let basis = self.basis("formula", &raw.id, raw.basis.as_ref(), &numbers);
        let is = self.formula(&raw.id.value, raw.is.as_ref()?)?;
        let unit = self.shown_unit(raw, &is);
        let symbol = self.names.get(&raw.id.value)?.symbol;
        let name = raw.name.as_ref().map(|name| name.text.clone());
        Some(Formula { id: raw.id.value.clone(), symbol, is, name, unit, basis })
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
            let from = self.faults.len();
            let read = self.unit(unit, kind);
            let place = raw.is.as_ref().map(|text| text.span);
            self.given_at(from, is.kind(), place);
            return read;
        }
        let named = NAMED_KINDS.iter().find(|named| kind == named.kind || kind.fits(named.kind))?;
        parse_unit(named.unit).ok()
    }

    /// Formulas in an order in which each comes after those it uses. Those in a circle, and those
    /// that need one of them, come last: their own faults are found, and nothing else.
    fn in_order(&mut self) -> Vec<&'a RawFormula> {
        let formulas = &self.raw.formulas;
        let needs = WrittenNames::of(self.raw).formulas_needed(formulas.len());
        let mut needed_by: Vec<Vec<usize>> = vec![Vec::new(); formulas.len()];
        let mut open: Vec<usize> = needs.iter().map(Vec::len).collect();
        for (formula, needed) in needs.iter().enumerate() {
            needed.iter().for_each(|&one| needed_by[one].push(formula));
        }
        let is_free = |formula: &usize| needs[*formula].is_empty();
        let mut order: Vec<usize> = (0..formulas.len()).filter(is_free).collect();
        let mut at = 0;
        while let Some(&ready) = order.get(at) {
            for &formula in &needed_by[ready] {
                open[formula] -= 1;
                if open[formula] == 0 {
                    order.push(formula);
                }
            }
            at += 1;
        }
        let blocked: Vec<usize> = (0..formulas.len()).filter(|&i| open[i] > 0).collect();
        self.names.faulty.extend(blocked.iter().map(|&i| formulas[i].id.value.clone()));
        order.into_iter().chain(blocked).map(|i| &formulas[i]).collect()
    }
}

/// Whether a formula holds a number of its own that must come from somewhere. The 0, 1 and 2 of
/// algebra, as in `1 - share`, come from nowhere.
pub(super) fn holds_a_number(text: &Scalar) -> bool {
    match parse(&text.text, &|range| text.span_of(range)) {
        Ok(syntax) => syntax.holds_a_figure(),
        Err(_) => holds_digits(&text.text),
    }
}

fn holds_digits(text: &str) -> bool {
    let mut before = ' ';
    text.chars().any(|c| {
        let starts_number = c.is_ascii_digit() && !before.is_alphanumeric() && before != '_';
        before = c;
        starts_number
    })
}
