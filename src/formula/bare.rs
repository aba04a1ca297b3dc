//! Numbers without a unit beside names: what is needed to notice a forgotten `%`.

use super::syntax::{Form, Node, Syntax};
use crate::source::Span;

/// The numbers of algebra, as in `1 - share` and `(a + b) / 2`.
const ALGEBRA: [f64; 3] = [0.0, 1.0, 2.0];

/// A number of a formula that is written without a unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Bare {
    /// The number as written.
    pub number: f64,
    /// Where it stands.
    pub span: Span,
}

impl Syntax {
    /// The whole formula, where it is nothing but a number without a unit.
    #[must_use]
    pub fn bare_number(&self) -> Option<Bare> {
        bare(&self.root)
    }

    /// Whether it holds a number that must come from somewhere: any but 0, 1 and 2 without a unit
    /// where something is added or multiplied.
    #[must_use]
    pub fn holds_a_figure(&self) -> bool {
        has_figure(&self.root, false)
    }

    /// Each number without a unit that a name is compared with, and the name; earlier answers, and
    /// the least and the most of several, count as the names in them.
    #[must_use]
    pub fn bare_limits(&self) -> Vec<(String, Bare)> {
        let mut found = Vec::new();
        add_limits(&self.root, &mut found);
        found
    }
}

/// A number that a formula rests on, and none of its algebra.
fn has_figure(node: &Node, is_in_algebra: bool) -> bool {
    if let Form::Literal(literal) = &node.form {
        let is_plain = literal.unit.is_none() && literal.half_width == 0.0;
        return !(is_in_algebra && is_plain && ALGEBRA.contains(&literal.number));
    }
    let is_algebra =
        matches!(node.form, Form::Sum(..) | Form::Product(..) | Form::Power(..) | Form::Negate(_));
    node.form.parts().into_iter().any(|part| has_figure(part, is_algebra))
}

fn bare(node: &Node) -> Option<Bare> {
    match &node.form {
        Form::Literal(literal) if literal.unit.is_none() => {
            Some(Bare { number: literal.number, span: node.span })
        }
        _ => None,
    }
}

fn add_limits(node: &Node, found: &mut Vec<(String, Bare)>) {
    if let Form::Compare(first, links) = &node.form {
        let sides: Vec<&Node> =
            std::iter::once(&**first).chain(links.iter().map(|link| &link.node)).collect();
        for pair in sides.windows(2) {
            for (named, other) in [(pair[0], pair[1]), (pair[1], pair[0])] {
                let Some(bare) = bare(other) else { continue };
                found.extend(measured(named).into_iter().map(|name| (name, bare.clone())));
            }
        }
    }
    node.form.parts().into_iter().for_each(|part| add_limits(part, found));
}

/// The names that a side of a comparison is a value of.
fn measured(node: &Node) -> Vec<String> {
    match &node.form {
        Form::Name(name) => vec![name.clone()],
        Form::Call(call) if keeps_its_unit(&call.function.text) => {
            call.arguments.iter().flat_map(|argument| measured(&argument.value)).collect()
        }
        _ => Vec::new(),
    }
}

/// Whether a function gives one of the values that it takes.
fn keeps_its_unit(function: &str) -> bool {
    matches!(function, "previous" | "before" | "first" | "min" | "max" | "abs")
}

impl Form {
    /// The parts that it is made of.
    fn parts(&self) -> Vec<&Node> {
        match self {
            Self::Literal(_) | Self::Truth(_) | Self::Never | Self::Name(_) => Vec::new(),
            Self::Call(call) => call.arguments.iter().map(|argument| &argument.value).collect(),
            Self::Negate(one) | Self::Power(one, _) | Self::Not(one) => vec![one],
            Self::Is(one, _) | Self::Includes(one, _) => vec![one],
            Self::And(parts) | Self::Or(parts) => parts.iter().collect(),
            Self::Sum(first, rest) => {
                std::iter::once(&**first).chain(rest.iter().map(|term| &term.node)).collect()
            }
            Self::Product(first, rest) => {
                std::iter::once(&**first).chain(rest.iter().map(|factor| &factor.node)).collect()
            }
            Self::Compare(first, rest) => {
                std::iter::once(&**first).chain(rest.iter().map(|link| &link.node)).collect()
            }
            Self::If(branches) => vec![&branches.condition, &branches.then, &branches.otherwise],
        }
    }
}
