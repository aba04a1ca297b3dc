//! Functions of several values or of one list.

use super::{Body, Example, Function, Gives, Parameter, Takes};
use crate::quantity::{Dimension, Nature, QuantityKind};

const QUANTITIES: &[Parameter] = &[Parameter::required(
    "values",
    "two or more values of one kind, or a list such as `every(q)`",
    Takes::SeveralQuantities,
)];

const DEFINITION: &str = "definition";

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "min",
        says: "the smallest of several values",
        parameters: QUANTITIES,
        gives: Gives::From(Ok),
        formula: "the smallest of the values, draw by draw",
        source: DEFINITION,
        examples: &[
            Example { text: "min(30 micron, 20 micron, 50 micron)", gives: "20 micron" },
            Example { text: "min(every(blank_off))", gives: "35 micron" },
        ],
        body: Body::Fold(|values| values.iter().copied().fold(f64::INFINITY, f64::min)),
        ..Function::PLAIN
    },
    Function {
        name: "max",
        says: "the largest of several values",
        parameters: QUANTITIES,
        gives: Gives::From(Ok),
        formula: "the largest of the values, draw by draw",
        source: DEFINITION,
        examples: &[Example { text: "max(5 degC, 41 degF)", gives: "5 degC" }],
        body: Body::Fold(|values| values.iter().copied().fold(f64::NEG_INFINITY, f64::max)),
        ..Function::PLAIN
    },
    Function {
        name: "sum",
        says: "several values added together",
        parameters: QUANTITIES,
        gives: Gives::From(addable),
        formula: "the values added together in their order, draw by draw",
        source: DEFINITION,
        examples: &[Example { text: "sum(5 micron, 10 micron, 3 micron)", gives: "18 micron" }],
        body: Body::Fold(|values| values.iter().fold(0.0, |total, value| total + value)),
        ..Function::PLAIN
    },
    Function {
        name: "count",
        says: "how many of several values are known",
        parameters: &[Parameter::required(
            "values",
            "two or more values, or a list such as `every(q)`",
            Takes::SeveralValues,
        )],
        gives: Gives::Kind(QuantityKind::NUMBER),
        formula: "the number of values that are known; those not known are left out",
        source: DEFINITION,
        examples: &[Example { text: "count(every(blank_off))", gives: "2" }],
        body: Body::Count,
        ..Function::PLAIN
    },
];

fn addable(kind: QuantityKind) -> Result<QuantityKind, &'static str> {
    match kind.nature {
        Nature::Gauge => Err("gauge pressures count from the air around and can't be added"),
        Nature::Absolute if kind.dimension == Dimension::TEMPERATURE => {
            Err("temperatures can't be added; differences can")
        }
        _ => Ok(kind),
    }
}
