//! `and`, `or`, `not` and `if`.

use super::join::join;
use super::{Checker, Typed, typed};
use crate::diagnostic::{Code, Diagnostic};
use crate::formula::Kind;
use crate::formula::resolved::{Expression, Resolved};
use crate::formula::syntax::{Branches, Form, Node};

impl Checker<'_> {
    /// A part that must be a yes or no.
    fn truth(&mut self, node: &Node) -> Option<Expression> {
        let side = self.node(node)?;
        if side.kind == Kind::YesNo {
            return Some(side.expression);
        }
        let fault = self.no_truth(node, &side.kind);
        self.report(fault);
        None
    }

    /// What is said where a yes or no is needed.
    pub(super) fn no_truth(&self, node: &Node, kind: &Kind) -> Diagnostic {
        let fault = self.unfit(node, kind, &Kind::YesNo.with_article());
        match kind {
            Kind::Choice(_) => fault.note("`is` compares a choice and gives a yes or no"),
            Kind::Choices(_) => fault.note("`includes` gives a yes or no"),
            Kind::Quantity(_) => fault.note("a comparison such as `<` gives a yes or no"),
            _ => fault,
        }
    }

    pub(super) fn not(&mut self, node: &Node, inner: &Node) -> Option<Typed> {
        let truth = self.truth(inner)?;
        Some(typed(node, Kind::YesNo, Resolved::Not(Box::new(truth))))
    }

    pub(super) fn joined(
        &mut self,
        node: &Node,
        parts: &[Node],
        form: fn(Vec<Expression>) -> Resolved,
    ) -> Option<Typed> {
        let parts: Vec<Option<Expression>> = parts.iter().map(|part| self.truth(part)).collect();
        let parts = parts.into_iter().collect::<Option<Vec<_>>>()?;
        Some(typed(node, Kind::YesNo, form(parts)))
    }

    pub(super) fn branches(&mut self, node: &Node, branches: &Branches) -> Option<Typed> {
        let condition = self.truth(&branches.condition);
        let then = self.branch(&branches.then);
        let otherwise = self.branch(&branches.otherwise);
        let (condition, then, otherwise) = (condition?, then?, otherwise?);
        let Some(kind) = one_kind(&then.kind, &otherwise.kind) else {
            let fault = self.branches_differ(branches, &then.kind, &otherwise.kind);
            self.report(fault);
            return None;
        };
        let parts = [condition, then.expression, otherwise.expression];
        Some(typed(node, kind, Resolved::If(Box::new(parts))))
    }

    /// A branch, which must be a value that can be picked draw by draw.
    fn branch(&mut self, node: &Node) -> Option<Typed> {
        let side = self.node(node)?;
        if matches!(side.kind, Kind::Quantity(_) | Kind::YesNo | Kind::Choice(_)) {
            return Some(side);
        }
        let fault = self.unfit(node, &side.kind, "a measured value, a yes or no, or a choice");
        self.report(fault);
        None
    }

    fn branches_differ(&self, branches: &Branches, then: &Kind, otherwise: &Kind) -> Diagnostic {
        let title = format!(
            "this gives {} in one case and {} in the other",
            then.with_article(),
            otherwise.with_article()
        );
        let fault = Diagnostic::nowhere(Code::KindsDiffer, title);
        let fault = self.side(fault, &branches.otherwise, otherwise);
        let fault = self.side(fault, &branches.then, then);
        let bare_zero = |node: &Node| matches!(&node.form, Form::Literal(l) if l.unit.is_none());
        match bare_zero(&branches.then) != bare_zero(&branches.otherwise) {
            true => fault.note("a number without a unit is a plain number"),
            false => fault,
        }
    }
}

/// The kind of two branches.
fn one_kind(then: &Kind, otherwise: &Kind) -> Option<Kind> {
    match (then, otherwise) {
        (Kind::Quantity(a), Kind::Quantity(b)) => join(*a, *b).map(Kind::Quantity),
        (a, b) => (a == b).then(|| a.clone()),
    }
}
