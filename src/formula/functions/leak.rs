//! The size of a leak: as a hole, at working pressure, as a loss in a year.

use super::gas_load::LEAK;
use super::{Body, Example, Function, Given, Gives, Need, OutOfRange, Parameter, Refusal, Takes};
use crate::physics::gas::REFERENCE_TEMPERATURE;
use crate::physics::leak::{LeakPath, hole_diameter, mass_flow, ratio_bounds};
use crate::physics::refrigerant::{COLDEST, Refrigerant, Saturation};
use crate::quantity::{Dimension, Nature, QuantityKind};

/// The stream from which the path of a leak is drawn.
const PATH_STREAM: &str = "leak_path";

const MASS_PER_TIME: QuantityKind = QuantityKind {
    dimension: Dimension { mass: 1, time: -1, ..Dimension::NONE },
    nature: Nature::Plain,
};

/// In the order of [`Refrigerant::ALL`].
const REFRIGERANTS: &[(&str, &str)] = &[
    ("r32", "R-32, difluoromethane"),
    ("r134a", "R-134a, 1,1,1,2-tetrafluoroethane"),
    ("r410a", "R-410A, a blend of R-32 and R-125"),
    ("r454b", "R-454B, a blend of R-32 and R-1234yf"),
    ("r290", "R-290, propane"),
    ("r744", "R-744, carbon dioxide"),
];
/// In the order of [`LeakPath::ALL`].
const PATHS: &[(&str, &str)] = &[
    ("molecular", "so narrow that molecules meet only its walls"),
    ("choked", "a short hole"),
    ("laminar", "a long capillary"),
];
/// Bubble, then dew.
const MEETINGS: &[(&str, &str)] =
    &[("bubble", "liquid that begins to boil"), ("dew", "vapour that begins to condense")];

const REFRIGERANT: Parameter =
    Parameter::required("refrigerant", "its designation of ASHRAE 34", Takes::Word(REFRIGERANTS));
const INSIDE: Parameter = Parameter::within(
    "inside",
    "the absolute pressure in the working system",
    QuantityKind::PRESSURE,
    1.2e5,
    1.5e7,
);
const PATH: Parameter = Parameter {
    need: Need::Optional,
    ..Parameter::required("path", "the path of the leak, if it is known", Takes::Word(PATHS))
};
const TEMPERATURE: Parameter = Parameter::within(
    "temperature",
    "the temperature of the gas",
    QuantityKind::TEMPERATURE,
    273.15 - 100.0,
    273.15 + 200.0,
)
.or(REFERENCE_TEMPERATURE);
const WORKING_TEMPERATURE: Parameter = Parameter::within(
    "temperature",
    "the temperature of the liquid",
    QuantityKind::TEMPERATURE,
    COLDEST,
    273.15 + 60.0,
);
const AT: Parameter = Parameter {
    need: Need::Default(0.0),
    ..Parameter::required("at", "for a blend, which of its two pressures", Takes::Word(MEETINGS))
};

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "hole_diameter",
        says: "the diameter of a round hole that lets in as much air as a leak",
        parameters: &[LEAK],
        gives: Gives::Kind(QuantityKind::LENGTH),
        formula: "the square root of 4 leak / (pi times 101325 Pa times 198.6 m/s), choked air of \
                  101325 Pa and 20 degC into vacuum",
        source: "published: isentropic flow of an ideal gas",
        examples: &[Example {
            text: "hole_diameter(gas_load(10 L, 10 micron/min)) as um",
            gives: "3.749 um",
        }],
        body: Body::Each(|given| Ok(hole_diameter(given.at(0)))),
        holds: "an equivalent, not a picture: real leaks are longer, and wider for it",
        ..Function::PLAIN
    },
    LEAK_AT_PRESSURE,
    Function {
        name: "leak_per_year",
        says: "the mass that a throughput of a refrigerant carries away",
        parameters: &[LOST, REFRIGERANT, TEMPERATURE],
        gives: Gives::Kind(MASS_PER_TIME),
        formula: "throughput times molar mass over gas constant times temperature; a year has \
                  365.25 days",
        source: "published: ideal gas; computed: molar masses by CoolProp 8.0.0",
        examples: &[
            Example { text: "leak_per_year(1e-6 Pa m3/s, r134a)", gives: "1.321 g/year" },
            Example {
                text: "leak_per_year(leak_at_pressure(2e-8 Pa m3/s, 12 bara, r32, \
                       path = laminar), r32)",
                gives: "2.599 g/year",
            },
        ],
        body: Body::Each(|given| {
            let gas = refrigerant(given, 1).vapour();
            Ok(mass_flow(given.at(0), gas.molar_mass, given.at(2)))
        }),
        holds: "for the throughput of the refrigerant itself; a leak known as air into vacuum goes \
                through leak_at_pressure first",
        ..Function::PLAIN
    },
    Function {
        name: "working_pressure",
        says: "the absolute pressure of a refrigerant over its liquid",
        parameters: &[REFRIGERANT, WORKING_TEMPERATURE, AT],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the exponential of a polynomial of fourth degree in 273.15 K / T - 1",
        source: "computed: fitted to the equations of state of CoolProp 8.0.0",
        examples: &[
            Example { text: "working_pressure(r32, 20 degC) as bara", gives: "14.74 bara" },
            Example {
                text: "working_pressure(r454b, 20 degC, at = dew) as bara",
                gives: "13.28 bara",
            },
        ],
        body: Body::Each(working_pressure),
        holds: "from -40 degC to 60 degC, for r744 to 30 degC; within .06 % of what it was fitted \
                to, which itself is good to about 1 % for blends (memory)",
        ..Function::PLAIN
    },
];

const LOST: Parameter =
    Parameter { name: "leak", says: "the leak, as a throughput of the refrigerant", ..LEAK };

const LEAK_AT_PRESSURE: Function = Function {
    name: "leak_at_pressure",
    says: "what a leak lets out of a working system",
    parameters: &[LEAK, INSIDE, REFRIGERANT, PATH],
    gives: Gives::Kind(QuantityKind::THROUGHPUT),
    formula: "leak times a ratio. Molecular: sqrt(M_air / M) p / 101325 Pa. Choked: p / 101325 Pa \
              times the ratio of the speeds of ideal jets. Laminar: viscosity of air over that of \
              the vapour, times (p / 101325 Pa) squared less 1. Without a path, drawn between the \
              lowest and the highest",
    source: "published: kinetic theory, isentropic flow, Hagen and Poiseuille's law; computed: \
             properties by CoolProp 8.0.0",
    examples: &[
        Example {
            text: "leak_at_pressure(1e-6 Pa m3/s, 14.7 bara, r32, path = molecular)",
            gives: "1.083e-5 Pa m3/s",
        },
        Example {
            text: "10 < leak_at_pressure(1e-6 Pa m3/s, 14.7 bara, r32) / 1e-6 Pa m3/s < 300",
            gives: "yes",
        },
    ],
    body: Body::Each(leak_at_pressure),
    holds: "vapour at the leak, as an ideal gas of 20 degC, into air of 101325 Pa. Liquid at the \
            leak carries more away",
    drawn: &[PATH_STREAM],
    ..Function::PLAIN
};

fn refrigerant(given: &Given<'_>, parameter: usize) -> Refrigerant {
    Refrigerant::ALL.get(given.word(parameter)).copied().unwrap_or(Refrigerant::R32)
}

fn leak_at_pressure(given: &Given<'_>) -> Result<f64, Refusal> {
    let (leak, inside, gas) = (given.at(0), given.at(1), refrigerant(given, 2).vapour());
    let path = given.optional(3).and_then(|_| LeakPath::ALL.get(given.word(3)));
    Ok(leak
        * match path {
            Some(path) => path.ratio_to_air(&gas, inside),
            None => {
                let (low, high) = ratio_bounds(&gas, inside);
                low * libm::pow(high / low, given.drawn(0))
            }
        })
}

fn working_pressure(given: &Given<'_>) -> Result<f64, Refusal> {
    let (refrigerant, temperature) = (refrigerant(given, 0), given.at(1));
    let high = refrigerant.hottest();
    if temperature > high {
        let (parameter, low) = (WORKING_TEMPERATURE.name, COLDEST);
        return Err(Refusal::OutOfRange(OutOfRange { parameter, value: temperature, low, high }));
    }
    let at = if given.word(2) == 0 { Saturation::Bubble } else { Saturation::Dew };
    Ok(refrigerant.pressure(temperature, at))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_in_the_order_of_what_they_mean() {
        let words = REFRIGERANTS.iter().map(|(word, _)| *word);
        assert!(words.eq(Refrigerant::ALL.map(Refrigerant::designation)));
        let paths = LeakPath::ALL.map(|path| format!("{path:?}").to_lowercase());
        assert!(PATHS.iter().map(|(word, _)| *word).eq(paths.iter().map(String::as_str)));
    }
}
