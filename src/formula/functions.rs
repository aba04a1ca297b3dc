//! The table of functions. It feeds the checker, the evaluator, the listing and the docs; every
//! example in it runs as a test.
//!
//! To add a function: write its entry in the file of its family under `functions/`, with its
//! formula in words, its source and an example. A law of physics takes SI values draw by draw:
//!
//! ```
//! use dryhold::formula::{Body, Example, Function, Gives, Given, OutOfRange, Parameter, Takes};
//! use dryhold::quantity::QuantityKind;
//!
//! const SQUARE: Function = Function {
//!     name: "circle_area",
//!     says: "the area of a circle",
//!     parameters: &[Parameter {
//!         range: Some((0.0, 10.0)),
//!         ..Parameter::required("radius", "from centre to rim", Takes::Quantity(QuantityKind::LENGTH))
//!     }],
//!     gives: Gives::Kind(QuantityKind::AREA),
//!     formula: "pi times the radius squared",
//!     source: "geometry",
//!     examples: &[Example { text: "circle_area(1 m)", gives: "31420 cm2" }],
//!     body: Body::Each(|given: &Given| Ok(std::f64::consts::PI * given.at(0) * given.at(0))),
//! };
//! assert_eq!(SQUARE.signature(), "circle_area(radius)");
//! ```

mod looking_back;
mod number;
mod several;

use super::{How, Kind};
use crate::quantity::QuantityKind;

/// A function of the formula language.
#[derive(Debug)]
pub struct Function {
    /// What it is called.
    pub name: &'static str,
    /// What it gives, in a few words.
    pub says: &'static str,
    /// What it takes, in order; required ones first.
    pub parameters: &'static [Parameter],
    /// The kind of what it gives.
    pub gives: Gives,
    /// The formula in words.
    pub formula: &'static str,
    /// Where the formula comes from.
    pub source: &'static str,
    /// Formulas with what they show; run as tests.
    pub examples: &'static [Example],
    /// How it is computed.
    pub body: Body,
}

/// A formula and what it shows.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// The formula.
    pub text: &'static str,
    /// What is shown for it.
    pub gives: &'static str,
}

/// One thing that a function takes.
#[derive(Clone, Copy, Debug)]
pub struct Parameter {
    /// Its name, for `name = value`.
    pub name: &'static str,
    /// What it is, in a few words.
    pub says: &'static str,
    /// What may stand there.
    pub takes: Takes,
    /// Whether it may be left out.
    pub need: Need,
    /// The lowest and the highest value in SI units for which the function is known.
    pub range: Option<(f64, f64)>,
}

impl Parameter {
    /// A parameter that must be given, without a range.
    #[must_use]
    pub const fn required(name: &'static str, says: &'static str, takes: Takes) -> Self {
        Self { name, says, takes, need: Need::Required, range: None }
    }
}

/// Whether a parameter may be left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Need {
    /// It must be given.
    Required,
    /// It may be left out; the function then does without it.
    Optional,
    /// It may be left out and then is this, in SI units (or the place of the word).
    Default(f64),
}

/// What may stand for a parameter.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// A quantity of this kind.
    Quantity(QuantityKind),
    /// A quantity of any kind.
    AnyQuantity,
    /// One of these bare words, each with its meaning.
    Word(&'static [(&'static str, &'static str)]),
    /// Several quantities of one kind, or one list of them; the only parameter of its function.
    SeveralQuantities,
    /// Several values of any kind, or one list of them; the only parameter of its function.
    SeveralValues,
    /// The name of a question.
    Question,
    /// The name of a question, formula or finding.
    Name,
    /// The name of an action.
    Action,
}

/// The kind of what a function gives.
#[derive(Clone, Copy, Debug)]
pub enum Gives {
    /// Always this kind.
    Kind(QuantityKind),
    /// A kind that follows from the kinds given, or why they can't be used.
    From(fn(QuantityKind) -> Result<QuantityKind, &'static str>),
    /// What the name gives that it looks back at.
    OfName,
}

/// How a function is computed.
#[derive(Clone, Copy, Debug)]
pub enum Body {
    /// Draw by draw from the parameters in SI units, to SI units.
    Each(fn(&Given<'_>) -> Result<f64, OutOfRange>),
    /// Draw by draw from any number of values of one kind.
    Fold(fn(&[f64]) -> f64),
    /// How many values are known.
    Count,
    /// An earlier value of a name.
    LookBack(LookBack),
}

/// The four ways to look back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LookBack {
    /// `first(q)`
    First,
    /// `previous(q)`
    Previous,
    /// `before(action, q)`
    Before,
    /// `every(q)`
    Every,
}

/// The values of a function's parameters in one draw, in SI units.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    values: &'a [f64],
}

impl<'a> Given<'a> {
    /// Values in the order of the parameters; not a number where an optional one is left out.
    pub(super) fn new(values: &'a [f64]) -> Self {
        Self { values }
    }

    /// The value of a parameter that is required or has a default; not a number beyond the
    /// last parameter.
    #[must_use]
    pub fn at(&self, parameter: usize) -> f64 {
        self.values.get(parameter).copied().unwrap_or(f64::NAN)
    }

    /// The value of an optional parameter, if it was given.
    #[must_use]
    pub fn optional(&self, parameter: usize) -> Option<f64> {
        Some(self.at(parameter)).filter(|value| !value.is_nan())
    }

    /// The place of the word that was given for a parameter of words.
    #[must_use]
    pub fn word(&self, parameter: usize) -> usize {
        // Words are given as their places, small whole numbers.
        self.at(parameter) as usize
    }
}

/// A value beyond the range in which a function is known. Makes the formula unknown, with this
/// as its reason.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// The parameter.
    pub parameter: &'static str,
    /// What was given, in SI units.
    pub value: f64,
    /// The lowest value that the function is known for, in SI units.
    pub low: f64,
    /// The highest value that the function is known for, in SI units.
    pub high: f64,
}

impl Function {
    /// `name(a, b, c = ...)`, as messages show how a function is called.
    #[must_use]
    pub fn signature(&self) -> String {
        let parameters: Vec<String> = self
            .parameters
            .iter()
            .map(|parameter| match (parameter.takes, parameter.need) {
                (Takes::SeveralQuantities | Takes::SeveralValues, _) => {
                    format!("{}, ...", parameter.name)
                }
                (_, Need::Required) => parameter.name.to_owned(),
                _ => format!("{} = ...", parameter.name),
            })
            .collect();
        format!("{}({})", self.name, parameters.join(", "))
    }

    /// A range fault in words, in the unit that people read.
    #[must_use]
    pub(super) fn out_of_range(&self, fault: &OutOfRange) -> String {
        let parameter = self.parameters.iter().find(|p| p.name == fault.parameter);
        let kind = match parameter.map(|p| p.takes) {
            Some(Takes::Quantity(kind)) => kind,
            _ => QuantityKind::NUMBER,
        };
        let show = |si: f64| super::show::show_number(si, None, kind, None);
        format!(
            "`{}` is known for a {} from {} to {}, and {} was given",
            self.name,
            fault.parameter,
            show(fault.low),
            show(fault.high),
            show(fault.value)
        )
    }

    /// Whether it takes several values or one list.
    pub(super) fn takes_several(&self) -> bool {
        matches!(
            self.parameters,
            [Parameter { takes: Takes::SeveralQuantities | Takes::SeveralValues, .. }]
        )
    }
}

impl LookBack {
    /// How the name is looked at, given the action for `before`.
    pub(super) fn how(self, action: Option<super::Symbol>) -> Option<How> {
        Some(match self {
            Self::First => How::First,
            Self::Previous => How::Previous,
            Self::Every => How::Every,
            Self::Before => How::Before(action?),
        })
    }

    /// The kind of what it gives, from the kind of the name.
    pub(super) fn kind(self, of: Kind) -> Kind {
        if self == Self::Every { Kind::List(Box::new(of)) } else { of }
    }
}

/// Every function, family by family.
pub fn functions() -> impl Iterator<Item = &'static Function> {
    several::FUNCTIONS.iter().chain(number::FUNCTIONS).chain(looking_back::FUNCTIONS)
}

/// The function of this name.
#[must_use]
pub fn find_function(name: &str) -> Option<&'static Function> {
    functions().find(|function| function.name == name)
}
