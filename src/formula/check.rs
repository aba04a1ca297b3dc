//! From the tree to a checked formula: names, kinds, units, arguments.
//!
//! All faults of a formula are reported in one go. A part that is faulty has no kind, and what
//! is built on it stays silent.

mod argument;
mod arithmetic;
mod call;
mod choice;
mod join;
mod logic;
mod look_back;
mod name;
mod nature;
mod order;

use std::ops::Range;

use super::resolved::{Checked, Expression, Resolved, Shape, Use};
use super::syntax::{AsUnit, Form, Literal, Node, Syntax};
use super::{Draws, How, Kind, Names, Value, stream};
use crate::diagnostic::{Code, Diagnostic, sort_in_file_order};
use crate::quantity::{Nature, QuantityKind};
use crate::source::Span;

/// Checks a formula against the names that it may use. `origin` is a stable name of the formula,
/// such as its id: the draws of its literals with `+-` depend on it.
///
/// # Errors
/// All faults of the formula in the order of the text.
pub fn check(syntax: &Syntax, names: &dyn Names, origin: &str) -> Result<Checked, Vec<Diagnostic>> {
    Checker::new(syntax, names, origin).run(None)
}

/// Checks a formula where a value of a certain kind is wanted, such as a yes or no for `when`.
///
/// # Errors
/// As [`check`], and [`Code::WrongKind`] if the formula gives something else.
pub fn check_as(
    syntax: &Syntax,
    names: &dyn Names,
    origin: &str,
    wanted: &Kind,
) -> Result<Checked, Vec<Diagnostic>> {
    Checker::new(syntax, names, origin).run(Some(wanted))
}

/// A part whose kind is known.
struct Typed {
    kind: Kind,
    expression: Expression,
}

/// A part that is a quantity.
struct Number {
    kind: QuantityKind,
    expression: Expression,
}

struct Checker<'a> {
    syntax: &'a Syntax,
    names: &'a dyn Names,
    origin: &'a str,
    faults: Vec<Diagnostic>,
    uses: Vec<Use>,
}

impl<'a> Checker<'a> {
    fn new(syntax: &'a Syntax, names: &'a dyn Names, origin: &'a str) -> Self {
        Self { syntax, names, origin, faults: Vec::new(), uses: Vec::new() }
    }

    fn run(mut self, wanted: Option<&Kind>) -> Result<Checked, Vec<Diagnostic>> {
        let syntax = self.syntax;
        let root = self.node(&syntax.root).and_then(|root| self.shown_as(root, &syntax.unit));
        let root = root.and_then(|root| self.wanted(root, wanted));
        match root {
            Some(root) if self.faults.is_empty() => Ok(Checked {
                text: syntax.text.clone(),
                root: Box::new(root.expression),
                kind: root.kind,
                uses: self.uses,
                unit: syntax.unit.as_ref().map(|shown| shown.unit.clone()),
            }),
            _ => {
                sort_in_file_order(&mut self.faults);
                Err(self.faults)
            }
        }
    }

    fn report(&mut self, fault: Diagnostic) {
        self.faults.push(fault);
    }

    /// The kind and meaning of a part; none if it is faulty, which then has been reported.
    fn node(&mut self, node: &Node) -> Option<Typed> {
        match &node.form {
            Form::Literal(literal) => Some(self.literal(node, literal)),
            Form::Truth(truth) => Some(constant_truth(node, *truth)),
            Form::Never => Some(never(node)),
            Form::Name(name) => self.name(node, name),
            Form::Call(call) => self.call(node, call),
            Form::Negate(inner) => self.negate(node, inner),
            Form::Sum(first, terms) => self.sum(node, first, terms),
            Form::Product(first, factors) => self.product(node, first, factors),
            Form::Power(base, exponent) => self.power(node, base, *exponent),
            Form::Compare(first, links) => self.compare(node, first, links),
            Form::Is(left, right) => self.is(node, left, right),
            Form::Includes(left, choice) => self.includes(node, left, choice),
            Form::Not(inner) => self.not(node, inner),
            Form::And(parts) => self.joined(node, parts, Resolved::And),
            Form::Or(parts) => self.joined(node, parts, Resolved::Or),
            Form::If(branches) => self.branches(node, branches),
        }
    }

    fn literal(&self, node: &Node, literal: &Literal) -> Typed {
        let si = literal.si();
        let draws = if literal.half_width > 0.0 {
            let column = stream(&format!("literal:{}:{}", self.origin, node.range.start));
            let half_width = literal.half_width;
            Draws::Each(column.iter().map(|u| si + (2.0 * u - 1.0) * half_width).collect())
        } else {
            Draws::Same(si)
        };
        let form = Resolved::Constant(Value::Quantity(draws));
        let mut typed = quantity(node, literal.kind(), form);
        typed.expression.unit = literal.unit.clone().map(Box::new);
        typed
    }

    /// Settles the kind of the whole formula by the unit that it is shown in.
    fn shown_as(&mut self, root: Typed, shown: &Option<AsUnit>) -> Option<Typed> {
        let Some(shown) = shown else { return Some(root) };
        let node = &self.syntax.root;
        let Kind::Quantity(kind) = root.kind else {
            let title = format!(
                "{} is {}, which has no unit",
                self.subject(node),
                root.kind.with_article()
            );
            self.report(Diagnostic::at(Code::WrongUnit, title, shown.span, "leave out this unit"));
            return None;
        };
        match join::join(kind, shown.unit.kind) {
            Some(kind) => Some(Typed { kind: Kind::Quantity(kind), ..root }),
            None => {
                self.wrong_unit(node, kind, shown);
                None
            }
        }
    }

    fn wrong_unit(&mut self, node: &Node, kind: QuantityKind, shown: &AsUnit) {
        let unit = &shown.unit;
        let title = format!(
            "{} is {}, but `{}` is a unit of {}",
            self.subject(node),
            Kind::Quantity(kind).with_article(),
            unit.symbol,
            unit.kind.name()
        );
        let label = format!("a unit of {}", unit.kind.name());
        let mut fault = Diagnostic::at(Code::WrongUnit, title, shown.span, label);
        fault = self.side(fault, node, &Kind::Quantity(kind));
        let mend = match (kind.nature, unit.symbol.as_str()) {
            (Nature::Difference, "degC") => Some("write `as degC_diff`".to_owned()),
            (Nature::Difference, "degF") => Some("write `as degF_diff`".to_owned()),
            (Nature::Gauge, symbol) => join::gauge_unit(symbol).map(|g| format!("write `as {g}`")),
            _ => None,
        };
        self.report(fault.maybe_help(mend));
    }

    fn wanted(&mut self, root: Typed, wanted: Option<&Kind>) -> Option<Typed> {
        let Some(wanted) = wanted else { return Some(root) };
        let node = &self.syntax.root;
        match (&root.kind, wanted) {
            (Kind::Quantity(kind), Kind::Quantity(place)) if kind.fits(*place) => {
                Some(Typed { kind: wanted.clone(), ..root })
            }
            (kind, wanted) if kind == wanted => Some(root),
            (kind, Kind::YesNo) => {
                let fault = self.no_truth(node, kind);
                self.report(fault);
                None
            }
            (kind, wanted) => {
                let fault = self.unfit(node, kind, &wanted.with_article());
                self.report(fault);
                None
            }
        }
    }

    /// `p` is a pressure, where a yes or no is needed.
    fn unfit(&self, node: &Node, kind: &Kind, wanted: &str) -> Diagnostic {
        let is = kind.with_article();
        let title = format!("{} is {is}, where {wanted} is needed", self.subject(node));
        self.side(Diagnostic::nowhere(Code::WrongKind, title), node, kind)
    }

    /// Adds a part with its kind to a fault, and where that kind was declared.
    fn side(&self, fault: Diagnostic, node: &Node, kind: &Kind) -> Diagnostic {
        let is = kind.with_article();
        let fault = fault.and_at(node.span, is.clone());
        match self.declared(node) {
            Some(place) if matches!(kind, Kind::Choice(_) | Kind::Choices(_)) => {
                fault.and_at(place, "the choices are declared here")
            }
            Some(place) => fault.and_at(place, format!("declared as {is} here")),
            None => fault,
        }
    }

    fn declared(&self, node: &Node) -> Option<Span> {
        match &node.form {
            Form::Name(name) => self.names.lookup(name).and_then(|info| info.declared),
            _ => None,
        }
    }

    /// A part as its author wrote it, in backticks; a long one is called "this".
    fn subject(&self, node: &Node) -> String {
        self.subject_between(node, node)
    }

    /// The same for everything from one part to another.
    fn subject_between(&self, first: &Node, last: &Node) -> String {
        let written = one_line(&self.syntax.text, first.range.start..last.range.end);
        if written.chars().count() <= 40 { format!("`{written}`") } else { "this".to_owned() }
    }

    /// The text of a part on one line.
    fn written(&self, node: &Node) -> String {
        one_line(&self.syntax.text, node.range.clone())
    }

    /// Notes that a name is needed.
    fn needs(&mut self, used: Use) {
        if !self.uses.contains(&used) {
            self.uses.push(used);
        }
    }

    fn recall(&mut self, node: &Node, kind: Kind, used: Use) -> Typed {
        self.needs(used);
        typed(node, kind, Resolved::Recall(used))
    }
}

/// A part of a formula's text with its line breaks and blanks drawn together.
pub(super) fn one_line(text: &str, range: Range<usize>) -> String {
    let text = text.get(range).unwrap_or_default();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A part with its kind.
fn typed(node: &Node, kind: Kind, form: Resolved) -> Typed {
    let (shape, range) = (Shape::of(&kind), node.range.clone());
    let expression = Expression { form, range, shape, kind: kind.clone(), unit: None };
    Typed { kind, expression }
}

fn quantity(node: &Node, kind: QuantityKind, form: Resolved) -> Typed {
    typed(node, Kind::Quantity(kind), form)
}

fn constant_truth(node: &Node, truth: bool) -> Typed {
    let truth = if truth { super::Truth::Yes } else { super::Truth::No };
    typed(node, Kind::YesNo, Resolved::Constant(Value::Truth(Draws::Same(truth))))
}

fn never(node: &Node) -> Typed {
    let value = Value::Quantity(Draws::Same(f64::INFINITY));
    quantity(node, QuantityKind::TIME, Resolved::Constant(value))
}

fn latest(symbol: super::Symbol) -> Use {
    Use { symbol, how: How::Latest }
}
