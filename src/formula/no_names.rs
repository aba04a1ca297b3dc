//! A formula without names.

use super::{Facts, NameInfo, Names, Symbol, Unknown, Value};
use crate::quantity::UnitExpression;

/// No names and no facts: for a formula of literals alone.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoNames;

impl Names for NoNames {
    fn lookup(&self, _: &str) -> Option<NameInfo> {
        None
    }

    fn action(&self, _: &str) -> Option<Symbol> {
        None
    }

    fn all_names(&self) -> Vec<&str> {
        Vec::new()
    }

    fn all_actions(&self) -> Vec<&str> {
        Vec::new()
    }
}

impl Facts for NoNames {
    fn latest(&self, _: Symbol) -> Value {
        Value::Unknown(Unknown::NotAnswered(String::new()))
    }

    fn first(&self, symbol: Symbol) -> Value {
        self.latest(symbol)
    }

    fn previous(&self, symbol: Symbol) -> Value {
        self.latest(symbol)
    }

    fn before(&self, _: Symbol, symbol: Symbol) -> Value {
        self.latest(symbol)
    }

    fn every(&self, symbol: Symbol) -> Value {
        self.latest(symbol)
    }

    fn name(&self, _: Symbol) -> &str {
        ""
    }

    fn unit(&self, _: Symbol) -> Option<&UnitExpression> {
        None
    }

    fn choice_label(&self, _: Symbol, choice: usize) -> String {
        choice.to_string()
    }
}
