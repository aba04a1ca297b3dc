//! The checked formula: every name looked up, every kind known.

use std::ops::Range;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::functions::{Function, by_name};
use super::syntax::Order;
use super::{Kind, Symbol, Value};
use crate::quantity::{QuantityKind, UnitExpression};

/// Which value of a name a formula looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum How {
    /// The latest.
    Latest,
    /// The first answer.
    First,
    /// The answer before the latest.
    Previous,
    /// The value before this action was last done.
    Before(Symbol),
    /// All of them.
    Every,
}

/// A name that a formula needs, and which value of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Use {
    /// The name.
    pub symbol: Symbol,
    /// Which value.
    pub how: How,
}

/// A formula whose names, kinds and units are in order. Only such a formula can be evaluated.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Checked {
    pub(super) text: Arc<str>,
    pub(super) root: Box<Expression>,
    pub(super) kind: Kind,
    pub(super) uses: Vec<Use>,
    pub(super) unit: Option<UnitExpression>,
}

impl Checked {
    /// What the formula gives.
    #[must_use]
    pub fn kind(&self) -> &Kind {
        &self.kind
    }

    /// What the formula needs: every name with how it is looked at, each once, in the order of
    /// the text.
    #[must_use]
    pub fn uses(&self) -> &[Use] {
        &self.uses
    }

    /// The formula as a tree, for whoever looks at more than its value.
    #[must_use]
    pub fn root(&self) -> &Expression {
        &self.root
    }

    /// The unit behind `as`, if there is one.
    #[must_use]
    pub fn unit(&self) -> Option<&UnitExpression> {
        self.unit.as_ref()
    }

    /// The formula as it was written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The name that is looked at, if the formula is nothing but a name or a look back at one.
    #[must_use]
    pub fn looked_at(&self) -> Option<Symbol> {
        match self.root.form {
            Resolved::Recall(used) => Some(used.symbol),
            _ => None,
        }
    }
}

/// A part of a checked formula.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Expression {
    /// What it is.
    pub form: Resolved,
    /// Its bytes in the formula's text, for saying which part went wrong.
    pub range: Range<usize>,
    /// What it comes to.
    pub shape: Shape,
    /// Its kind, for showing it by itself.
    pub kind: Kind,
    /// The unit that a number was written in; boxed, as few parts have one.
    pub unit: Option<Box<UnitExpression>>,
}

/// What a part of a formula comes to, as far as computing it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Shape {
    /// A finite number in SI units.
    Number,
    /// A time in seconds, which may be infinite: "never".
    Time,
    /// A yes or no.
    Truth,
    /// A choice.
    Choice,
    /// Anything that is only handed on whole: several choices, texts, dates, lists.
    Whole,
}

impl Shape {
    /// The shape of a kind.
    #[must_use]
    pub fn of(kind: &Kind) -> Self {
        match kind {
            Kind::Quantity(QuantityKind::TIME) => Self::Time,
            Kind::Quantity(_) => Self::Number,
            Kind::YesNo => Self::Truth,
            Kind::Choice(_) => Self::Choice,
            Kind::Choices(_) | Kind::Text | Kind::Date | Kind::List(_) | Kind::Readings(_) => {
                Self::Whole
            }
        }
    }
}

/// What a part of a checked formula is.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub enum Resolved {
    /// A value that is there already.
    Constant(Value),
    /// What stands for a parameter that was left out, in SI units, or the place of its word.
    Default(f64),
    /// The value of a name.
    Recall(Use),
    /// A number with the other sign.
    Negate(Box<Expression>),
    /// Numbers added, or taken away where marked.
    Sum(Vec<(bool, Expression)>),
    /// Numbers multiplied, or divided by where marked.
    Product(Vec<(bool, Expression)>),
    /// A whole-number power.
    Power(Box<Expression>, i8),
    /// A chain of comparisons; one more value than orders.
    Compare(Vec<Expression>, Vec<Order>),
    /// Whether a value is (not) one of several.
    Is(Box<Expression>, bool, Vec<Expression>),
    /// Whether a choice is among those named.
    Includes(Box<Expression>, usize),
    /// The other way round.
    Not(Box<Expression>),
    /// All of them.
    And(Vec<Expression>),
    /// Any of them.
    Or(Vec<Expression>),
    /// Condition, then, else.
    If(Box<[Expression; 3]>),
    /// A function and what it is given, a place for each parameter; a function of several values
    /// has them all.
    Apply(#[serde(with = "by_name")] &'static Function, Vec<Option<Expression>>),
}
