//! Where water boils and where ice turns into vapour.

use super::{Body, Example, Function, Gives, Parameter, Takes};
use crate::physics::saturation::{saturation_pressure, saturation_temperature};
use crate::quantity::QuantityKind;

const SOURCE: &str = "published: IAPWS R7-97(2012), region 4, over liquid; IAPWS R14-08(2011) over \
                      ice, below 0.01 degC";
const HOLDS: &str = "pure water, alone or under another gas; what oil or a drier holds back has a \
                     lower pressure";

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "saturation_pressure",
        says: "the pressure at which water boils or ice turns into vapour",
        parameters: &[Parameter {
            range: Some((140.0, 647.096)),
            ..Parameter::required(
                "temperature",
                "the temperature of the water or the ice",
                Takes::Quantity(QuantityKind::TEMPERATURE),
            )
        }],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the equation of the saturation line: over liquid water from 0.01 degC up, over \
                  ice below",
        source: SOURCE,
        examples: &[
            Example { text: "saturation_pressure(20 degC)", gives: "17550 micron" },
            Example { text: "saturation_pressure(-20 degC)", gives: "774.4 micron" },
        ],
        body: Body::Each(|given| Ok(saturation_pressure(given.at(0)))),
        holds: HOLDS,
        ..Function::PLAIN
    },
    Function {
        name: "saturation_temperature",
        says: "the temperature at which water boils or ice turns into vapour",
        parameters: &[Parameter {
            // The pressures of the temperatures that `saturation_pressure` takes.
            range: Some((1e-7, 22.064e6)),
            ..Parameter::required(
                "pressure",
                "the absolute pressure of the water vapour",
                Takes::Quantity(QuantityKind::PRESSURE),
            )
        }],
        gives: Gives::Kind(QuantityKind::TEMPERATURE),
        formula: "the inverse of saturation_pressure: of liquid from 4588 micron up, of ice below",
        source: SOURCE,
        examples: &[
            Example { text: "saturation_temperature(1000 micron)", gives: "-17.31 degC" },
            Example { text: "saturation_temperature(760000 micron)", gives: "99.97 degC" },
        ],
        body: Body::Each(|given| Ok(saturation_temperature(given.at(0)))),
        holds: HOLDS,
        ..Function::PLAIN
    },
];
