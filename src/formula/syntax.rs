//! The tree of a formula as it was written, nothing looked up yet.

use std::ops::Range;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::quantity::{QuantityKind, UnitExpression};
use crate::source::Span;

/// A formula that was read without fault. What its names are is not known yet: see
/// [`check`](super::check).
#[derive(Clone, Debug)]
pub struct Syntax {
    /// The text that was read.
    pub(super) text: Arc<str>,
    /// Where the whole formula stands.
    pub(super) span: Span,
    /// The formula without its `as`.
    pub(super) root: Node,
    /// The unit behind `as`.
    pub(super) unit: Option<AsUnit>,
}

impl Syntax {
    /// The text that was read.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Where the whole formula stands.
    #[must_use]
    pub fn span(&self) -> Span {
        self.span
    }

    /// The same formula, shown in a unit that stands elsewhere, such as behind the key `as`. A
    /// unit behind the word `as` in the formula itself gives way.
    #[must_use]
    pub fn shown_in(mut self, unit: UnitExpression, span: Span) -> Self {
        self.unit = Some(AsUnit { unit, span });
        self
    }

    /// Where the unit behind the word `as` stands, if there is one.
    #[must_use]
    pub fn unit_span(&self) -> Option<Span> {
        self.unit.as_ref().map(|shown| shown.span)
    }
}

/// The unit that a formula is to be shown in.
#[derive(Clone, Debug)]
pub(super) struct AsUnit {
    /// The unit.
    pub unit: UnitExpression,
    /// Where it stands.
    pub span: Span,
}

/// A part of a formula.
#[derive(Clone, Debug)]
pub(super) struct Node {
    /// What it is.
    pub form: Form,
    /// Its bytes in the formula's text.
    pub range: Range<usize>,
    /// Its place in the file.
    pub span: Span,
}

/// A word with its place.
#[derive(Clone, Debug)]
pub(super) struct Word {
    /// The word.
    pub text: String,
    /// Its place in the file.
    pub span: Span,
}

/// What a part of a formula is. Chains of one precedence are one node, so that the depth of the
/// tree grows with brackets only.
#[derive(Clone, Debug)]
pub(super) enum Form {
    /// A number with its unit.
    Literal(Literal),
    /// `yes` or `no`.
    Truth(bool),
    /// `never`: a time without end.
    Never,
    /// A name.
    Name(String),
    /// `f(a, b = c)`
    Call(Call),
    /// `-a`
    Negate(Box<Node>),
    /// `a + b - c`
    Sum(Box<Node>, Vec<Term>),
    /// `a * b / c`
    Product(Box<Node>, Vec<Factor>),
    /// `a ^ n`
    Power(Box<Node>, i8),
    /// `a < b <= c`
    Compare(Box<Node>, Vec<Comparison>),
    /// `a is b`, `a is not one of (b, c)`
    Is(Box<Node>, IsOneOf),
    /// `a includes b`
    Includes(Box<Node>, Word),
    /// `not a`
    Not(Box<Node>),
    /// `a and b and c`
    And(Vec<Node>),
    /// `a or b or c`
    Or(Vec<Node>),
    /// `if a then b else c`
    If(Box<Branches>),
}

/// A number with its unit and doubt, in SI units.
#[derive(Clone, Debug)]
pub(super) struct Literal {
    /// The number as written.
    pub number: f64,
    /// The unit, if one was written.
    pub unit: Option<UnitExpression>,
    /// The half-width behind `+-` in SI units; 0 for a certain number.
    pub half_width: f64,
}

impl Literal {
    /// The value in SI units.
    pub fn si(&self) -> f64 {
        self.unit.as_ref().map_or(self.number, |unit| unit.to_si(self.number))
    }

    /// What it measures.
    pub fn kind(&self) -> QuantityKind {
        self.unit.as_ref().map_or(QuantityKind::NUMBER, |unit| unit.kind)
    }
}

/// A function called.
#[derive(Clone, Debug)]
pub(super) struct Call {
    /// The function.
    pub function: Word,
    /// What it is given, in the order written.
    pub arguments: Vec<Argument>,
    /// The closing bracket, where an argument may be missing.
    pub close: Span,
}

/// One thing that a function is given.
#[derive(Clone, Debug)]
pub(super) struct Argument {
    /// The name before `=`, if there is one.
    pub name: Option<Word>,
    /// The value.
    pub value: Node,
}

/// One further part of a sum.
#[derive(Clone, Debug)]
pub(super) struct Term {
    /// Whether it is taken away.
    pub is_taken_away: bool,
    /// What is added or taken away.
    pub node: Node,
}

/// One further part of a product.
#[derive(Clone, Debug)]
pub(super) struct Factor {
    /// Whether it divides.
    pub is_divisor: bool,
    /// What multiplies or divides.
    pub node: Node,
}

/// How two values are compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Order {
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    Greater,
    /// `>=`
    AtLeast,
}

impl Order {
    /// As it is written.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Less => "<",
            Self::AtMost => "<=",
            Self::Greater => ">",
            Self::AtLeast => ">=",
        }
    }

    /// Whether it holds between two numbers.
    #[must_use]
    pub fn holds(self, a: f64, b: f64) -> bool {
        match self {
            Self::Less => a < b,
            Self::AtMost => a <= b,
            Self::Greater => a > b,
            Self::AtLeast => a >= b,
        }
    }
}

/// One link of a chain of comparisons.
#[derive(Clone, Debug)]
pub(super) struct Comparison {
    /// How the value before is compared with this one.
    pub order: Order,
    /// The value.
    pub node: Node,
}

/// The right side of `is`.
#[derive(Clone, Debug)]
pub(super) struct IsOneOf {
    /// Whether `not` stands behind `is`.
    pub is_negated: bool,
    /// Whether the options stand in brackets behind `one of`.
    pub is_list: bool,
    /// What it is compared with; never empty.
    pub options: Vec<Node>,
}

/// The parts of `if a then b else c`.
#[derive(Clone, Debug)]
pub(super) struct Branches {
    /// What decides.
    pub condition: Node,
    /// What it is if yes.
    pub then: Node,
    /// What it is if no.
    pub otherwise: Node,
}
