//! Names: questions, formulas and findings; and what is said of a word that is none.

use super::{Checker, Typed, latest};
use crate::diagnostic::{Code, Diagnostic, near_name};
use crate::formula::find_function;
use crate::formula::parse::wording::{earlier_of, previous};
use crate::formula::syntax::Node;
use crate::quantity::find_unit;
use crate::source::Span;

impl Checker<'_> {
    pub(super) fn name(&mut self, node: &Node, name: &str) -> Option<Typed> {
        match self.names.lookup(name) {
            Some(info) => Some(self.recall(node, info.kind, latest(info.symbol))),
            None => {
                let fault = self.unknown_name(name, node.span);
                self.report(fault);
                None
            }
        }
    }

    /// What is said of a word that is no question, formula or finding.
    pub(super) fn unknown_name(&self, name: &str, span: Span) -> Diagnostic {
        let fault =
            |title: String, label: &str| Diagnostic::at(Code::UnknownName, title, span, label);
        if let Some(function) = find_function(name) {
            return fault(format!("`{name}` is a function"), "called without brackets")
                .help(format!("write `{}`", function.signature()));
        }
        if find_unit(name).is_some() {
            return fault(format!("`{name}` is a unit"), "no number stands before it");
        }
        if self.names.action(name).is_some() {
            return fault(format!("`{name}` is an action and has no value"), "an action")
                .note("an action is only named in `before(action, name)`");
        }
        if let Some(earlier) = earlier_of(name).filter(|name| self.names.lookup(name).is_some()) {
            return fault(format!("`{name}` is not a question, formula or finding"), "not known")
                .help(previous(earlier));
        }
        let near = near_name(name, self.names.all_names());
        fault(format!("`{name}` is not a question, formula or finding"), "not known")
            .maybe_help(near.map(|near| format!("did you mean `{near}`?")))
    }
}
