//! The table of names while a handbook is being checked: what the formula checker asks.

use std::collections::BTreeMap;

use crate::formula::{Kind, NameInfo, Names, Referent, Symbol};
use crate::source::Span;

/// One name with what is known of it before formulas are checked.
#[derive(Clone, Debug)]
pub(super) struct Known {
    pub symbol: Symbol,
    pub referent: Referent,
    /// None for a formula whose own check has not come yet or has failed.
    pub kind: Option<Kind>,
    pub declared: Span,
}

/// Questions, formulas and findings share one space of names; actions have their own.
#[derive(Clone, Debug, Default)]
pub(super) struct NameTable {
    known: BTreeMap<String, Known>,
    actions: BTreeMap<String, Symbol>,
    /// Names whose definition is faulty: uses of them are not reported again.
    pub faulty: Vec<String>,
}

impl NameTable {
    pub(super) fn insert(&mut self, id: &str, known: Known) {
        self.known.insert(id.to_owned(), known);
    }

    pub(super) fn insert_action(&mut self, id: &str, symbol: Symbol) {
        self.actions.insert(id.to_owned(), symbol);
    }

    pub(super) fn get(&self, id: &str) -> Option<&Known> {
        self.known.get(id)
    }

    pub(super) fn set_kind(&mut self, id: &str, kind: Kind) {
        if let Some(known) = self.known.get_mut(id) {
            known.kind = Some(kind);
        }
    }
}

impl Names for NameTable {
    fn lookup(&self, name: &str) -> Option<NameInfo> {
        let known = self.known.get(name)?;
        let kind = known.kind.clone()?;
        Some(NameInfo {
            symbol: known.symbol,
            referent: known.referent,
            kind,
            declared: Some(known.declared),
        })
    }

    fn action(&self, name: &str) -> Option<Symbol> {
        self.actions.get(name).copied()
    }

    fn all_names(&self) -> Vec<&str> {
        self.known.keys().map(String::as_str).collect()
    }

    fn all_actions(&self) -> Vec<&str> {
        self.actions.keys().map(String::as_str).collect()
    }
}
