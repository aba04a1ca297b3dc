//! The table of functions. It feeds the checker, the evaluator, the listing and the docs; every
//! example in it runs as a test.
//!
//! To add a function: write its entry in the file of its family under `functions/`, with its
//! formula in words, its source and an example. A law of physics takes SI values draw by draw:
//!
//! ```
//! use dryhold::formula::{Body, Example, Function, Given, Gives, Parameter, Takes};
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
//!     ..Function::PLAIN
//! };
//! assert_eq!(SQUARE.signature(), "circle_area(radius)");
//! ```

mod acceptance;
mod atmosphere;
pub(super) mod by_name;
mod gas_flow;
mod gas_load;
mod hold;
mod in_words;
mod law;
mod leak;
mod looking_back;
mod moisture;
mod number;
mod parameter;
mod pumping;
mod saturation;
mod several;
mod tube;

pub use law::{Given, Never, OutOfRange, Refusal};
pub use parameter::{Need, Parameter, Takes};

use super::hold::HoldDraw;
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
    /// Where the law holds, in words; empty where it always does.
    pub holds: &'static str,
    /// Streams of chance: a value that is known only within bounds is drawn from them. The same
    /// name is the same draw everywhere.
    pub drawn: &'static [&'static str],
    /// Where a system stops for which the time is never.
    pub never: Option<Never>,
}

/// A formula and what it shows.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// The formula.
    pub text: &'static str,
    /// What is shown for it.
    pub gives: &'static str,
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
    /// Yes or no: the body gives 1 or 0.
    YesNo,
    /// One of these words, each with its meaning: a choice. The body gives its place.
    Word(&'static [(&'static str, &'static str)]),
}

/// How a function is computed.
#[derive(Clone, Copy, Debug)]
pub enum Body {
    /// Draw by draw from the parameters in SI units, to SI units.
    Each(fn(&Given<'_>) -> Result<f64, Refusal>),
    /// Draw by draw from the readings of a hold, the first parameter, and from the others.
    Hold(fn(&HoldDraw<'_>, &Given<'_>) -> Result<f64, Refusal>),
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

impl Function {
    /// What an entry leaves unsaid: a law that always holds, draws nothing and always ends.
    pub const PLAIN: Self = Self {
        name: "",
        says: "",
        parameters: &[],
        gives: Gives::Kind(QuantityKind::NUMBER),
        formula: "",
        source: "",
        examples: &[],
        body: Body::Count,
        holds: "",
        drawn: &[],
        never: None,
    };

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

    /// A value that the function refuses, in words and in the units that people read; `several` is
    /// the kind of the values of a function that takes several.
    #[must_use]
    pub(super) fn refuses(&self, refusal: &Refusal, several: QuantityKind) -> String {
        let fault = match refusal {
            Refusal::Impossible(why) => return format!("`{}` has no answer: {why}", self.name),
            Refusal::OutOfRange(fault) => fault,
        };
        let parameter = self.parameters.iter().find(|p| p.name == fault.parameter);
        let kind = match parameter.map(|p| p.takes) {
            Some(Takes::Quantity(kind)) => kind,
            Some(Takes::SeveralQuantities) => several,
            _ => QuantityKind::NUMBER,
        };
        let show = |si: f64| in_unit(si, kind);
        format!(
            "`{}` is known for `{}` from {} to {}, and {} was given",
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

/// Functions that belong together, with their heading.
#[derive(Clone, Copy, Debug)]
pub struct Family {
    /// The heading.
    pub title: &'static str,
    /// The functions.
    pub functions: &'static [Function],
}

/// Every family, in the order in which the functions are listed.
pub const FAMILIES: &[Family] = &[
    Family { title: "Several values", functions: several::FUNCTIONS },
    Family { title: "One number", functions: number::FUNCTIONS },
    Family { title: "Earlier answers", functions: looking_back::FUNCTIONS },
    Family { title: "Boiling water and ice", functions: saturation::FUNCTIONS },
    Family { title: "Gas in tubes and holes", functions: gas_flow::FUNCTIONS },
    Family { title: "Pumping", functions: pumping::FUNCTIONS },
    Family { title: "Rise and stall", functions: gas_load::FUNCTIONS },
    Family { title: "The readings of a hold", functions: hold::FUNCTIONS },
    Family { title: "Water and sweeps", functions: moisture::FUNCTIONS },
    Family { title: "The size of a leak", functions: leak::FUNCTIONS },
    Family { title: "Inner volumes", functions: tube::FUNCTIONS },
    Family { title: "Gauge pressure and nitrogen", functions: atmosphere::FUNCTIONS },
    Family { title: "Written criteria", functions: acceptance::FUNCTIONS },
];

/// Every function, family by family.
pub fn functions() -> impl Iterator<Item = &'static Function> {
    FAMILIES.iter().flat_map(|family| family.functions)
}

/// The function of this name.
#[must_use]
pub fn find_function(name: &str) -> Option<&'static Function> {
    functions().find(|function| function.name == name)
}

/// A value in SI units as text in the unit that people read, for the sentence of a
/// [`Refusal::Impossible`].
#[must_use]
pub(super) fn in_unit(si: f64, kind: QuantityKind) -> String {
    super::show::show_number(si, None, kind, None)
}
