//! Functions of one number.

use super::{Body, Example, Function, Gives, Parameter, Takes};
use crate::quantity::{Dimension, Nature, QuantityKind};

const ANY: &[Parameter] = &[Parameter::required("x", "any quantity", Takes::AnyQuantity)];
const NUMBER: &[Parameter] = &[Parameter::required(
    "x",
    "a number or a ratio, without a unit such as micron",
    Takes::Quantity(QuantityKind::NUMBER),
)];

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "abs",
        says: "the size of a value without its sign",
        parameters: ANY,
        gives: Gives::From(signless),
        formula: "the value if it is positive or 0, else the value with its sign turned round",
        source: "definition",
        examples: &[Example { text: "abs(20 micron - 50 micron)", gives: "30 micron" }],
        body: Body::Each(|given| Ok(given.at(0).abs())),
        ..Function::PLAIN
    },
    Function {
        name: "sqrt",
        says: "the square root",
        parameters: ANY,
        gives: Gives::From(halved),
        formula: "the positive number whose square is the value; unknown for a negative value",
        source: "definition",
        examples: &[Example { text: "sqrt(9 cm2) as cm", gives: "3 cm" }],
        body: Body::Each(|given| Ok(libm::sqrt(given.at(0)))),
        ..Function::PLAIN
    },
    Function {
        name: "exp",
        says: "e to the power of a number",
        parameters: NUMBER,
        gives: Gives::Kind(QuantityKind::NUMBER),
        formula: "e (2.71828...) to the power of the number",
        source: "definition",
        examples: &[Example { text: "exp(1)", gives: "2.718" }],
        body: Body::Each(|given| Ok(libm::exp(given.at(0)))),
        ..Function::PLAIN
    },
    Function {
        name: "ln",
        says: "the natural logarithm",
        parameters: NUMBER,
        gives: Gives::Kind(QuantityKind::NUMBER),
        formula: "the power of e that gives the number; unknown for 0 and below",
        source: "definition",
        examples: &[Example { text: "ln(760000 micron / 500 micron)", gives: "7.326" }],
        body: Body::Each(|given| Ok(libm::log(given.at(0)))),
        ..Function::PLAIN
    },
];

fn signless(kind: QuantityKind) -> Result<QuantityKind, &'static str> {
    match kind.nature {
        Nature::Gauge => Err("the sign of a gauge pressure says on which side of the air it lies"),
        Nature::Absolute if kind.dimension == Dimension::TEMPERATURE => {
            Err("a temperature has no size of its own; a difference has")
        }
        _ => Ok(kind),
    }
}

fn halved(kind: QuantityKind) -> Result<QuantityKind, &'static str> {
    kind.dimension
        .square_root()
        .map(QuantityKind::computed)
        .ok_or("its unit is not the square of another")
}
